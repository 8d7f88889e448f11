import {readFileSync} from 'node:fs';
import path from 'node:path';
import {afterEach, beforeEach, describe, expect, it} from 'vitest';
import {playGlove} from '../dashboard/play-glove.ts';
import {GlovesOnScreen} from './gloves-on-screen.ts';

let screen: GlovesOnScreen;
beforeEach(() => {
	screen = new GlovesOnScreen();
});
afterEach(() => screen.dispose());

describe('a live glove', () => {
	it('is shown, recorded from the keys with a mark, and its silence is told', async () => {
		const lines = playGlove({seconds: 60}).map(item => ('bytes' in item ? item.bytes : new Uint8Array()));
		let sent = 0;
		let isSilent = false;
		const address = await screen.gloves.serveLines(() => () => (isSilent ? undefined : lines[sent++ % lines.length]));
		const program = screen.start(['attach', address]);
		await program.until(/little +\S*[[█]/);
		program.send('r');
		await program.until('REC');
		program.send('mreel 3 done\r');
		await program.until('Mark kept in the recording');
		isSilent = true;
		await program.until(/SILENT for \d+ s: try another cable/);
		program.send('q');
		expect(await program.exited).toBe(0);
		// On the ordinary screen again: where the recording is.
		const name = /Recorded to (glove-[\d-]+\.gbrec)/.exec(program.text)![1];
		const recording = readFileSync(path.join(screen.folder, name), 'utf8')
			.trimEnd()
			.split('\n')
			.map(line => JSON.parse(line));
		expect(recording[0]).toMatchObject({glovebench: 1});
		expect(recording).toContainEqual({t: expect.any(Number), mark: 'reel 3 done'});
		expect(recording.at(-1)).toMatchObject({end: true});
		const received = recording.map(({rx}) => rx ?? '').join('');
		// Whole and in order: what was sent, from where the recording began.
		const all = Buffer.concat(lines.slice(0, sent)).toString();
		expect(received.length).toBeGreaterThan(30);
		expect(all.endsWith(received)).toBe(true);
	});
});

it('shows the demonstration', async () => {
	const program = screen.start(['demo']);
	await program.until(/ring +\S*[[█]/);
	await program.until(/live 0:0\d/);
	// In its first seconds the rate is not known yet: it is not none.
	expect(program.raw).not.toMatch(/\b0\.0\/s/);
	program.send('\u0003');
	expect(await program.exited).toBe(130);
	// What is left on the terminal: a verdict, what became of a recording, what to try.
	expect(program.text).toMatch(/Nothing was recorded/);
	expect(program.text).toMatch(/Try next: glovebench ports/);
});
