import {existsSync, readFileSync, writeFileSync} from 'node:fs';
import type {AddressInfo} from 'node:net';
import {createServer} from 'node:net';
import {fileURLToPath} from 'node:url';
import stringWidth from 'string-width';
import {describe, expect, it} from 'vitest';
import {progressPath, writeProgress} from '../../source/bringup/progress-file.ts';
import {type BringUpCommandOptions, bringUpCommand} from '../../source/commands/bringup.ts';
import {parseSheet} from '../../source/sheet/parse-sheet.ts';
import {sampleSimulation} from '../bringup/sample-run.ts';
import {testFolder} from '../gloves/test-folder.ts';
import {runCaptured} from './run-captured.ts';

const {at} = testFolder();
const sample = (name: string) => fileURLToPath(new URL(`../../recordings/${name}.gbrec`, import.meta.url));
const good = sample('bringup-good');
const swapped = sample('bringup-swapped-reversed');

const run = (options: BringUpCommandOptions, signal?: AbortSignal) =>
	runCaptured(bringUpCommand, options, {...(signal && {signal})});

describe('bringup on a recording', () => {
	it('says in text, JSON and page that the recording breaks off', async () => {
		const cut = at('cut.gbrec');
		writeFileSync(cut, readFileSync(sample('bringup-good'), 'utf8').slice(0, 150_000));
		const page = at('cut.html');
		const {text} = await run({port: cut, html: page});
		expect(text).toMatch(/^It is not whole: /m);
		expect(JSON.parse((await run({port: cut, json: true})).text).cut).toMatch(/^It is not whole: /);
		expect(readFileSync(page, 'utf8')).toContain('It is not whole: ');
		expect(JSON.parse((await run({port: sample('bringup-good'), json: true})).text).cut).toBe('');
	});

	it('prints the transcript and the table, writes the sheet as built, and resolves to 1 for a swapped glove', async () => {
		const output = at('as-built.toml');
		const {status, text, talk} = await run({port: swapped, output});
		expect(status).toBe(1);
		expect(text).toMatch(/0:08 {2}Index reel: pull its cord out .*\n +ring answered: rises by [\d.]+ % FS, 3 times/);
		expect(text).toContain(
			'FAIL: index, ring and little do not pass; found "another finger answered" on\nindex and ring, "moves against the others" on little.',
		);
		expect(text).toMatch(/^index +ring +\d+ % .* fail$/m);
		expect(text).toMatch(/^little .* falls +fail$/m);
		expect(text).toContain('- little: found "moves against the others"');
		// Advice for two of a kind and a caution for all are said once.
		expect(text.match(/Mend: Exchange the two wires/g)).toHaveLength(1);
		expect(text.match(/Unplug USB and battery/g)).toHaveLength(1);
		for (const line of text.split('\n')) expect(stringWidth(line), line).toBeLessThanOrEqual(80);
		expect(talk).toContain(`The sheet as built is in ${output}.`);
		const built = readFileSync(output, 'utf8');
		expect(built).toMatch(/^# As built: measured by glovebench bringup on 2001-01-01\./);
		expect(built).toMatch(/^# index is on value 4 of the frame, where ring was expected: it stands there below\.$/m);
		expect(built).toMatch(/^# little falls as the finger bends: inverted below\.$/m);
		expect(
			parseSheet(built)
				.sheet!.channels.slice(0, 5)
				.map(({name}) => name),
		).toEqual(['thumb', 'ring', 'middle', 'index', 'little']);
	});

	it('resolves to 0 for a good glove, and says how to get the sheet', async () => {
		const {status, text, talk} = await run({port: good});
		expect(status).toBe(0);
		expect(text).toContain('PASS: every channel answered in its place and keeps its limits.');
		expect(talk).toContain('-o FILE writes the sheet as built.');
	});

	it('prints the record as JSON, and plain ASCII', async () => {
		const {text} = await run({port: swapped, json: true});
		const result = JSON.parse(text);
		expect(result).toMatchObject({schema: 1, verdict: 'fail', missing: []});
		const columns = Object.fromEntries(
			result.fingers.map(({name, column}: {name: string; column: number}) => [name, column]),
		);
		expect(columns).toEqual({thumb: 0, index: 3, middle: 2, ring: 1, little: 4});
		expect((await run({port: swapped, ascii: true})).text).toMatch(/^[\n -~]+$/);
	});

	it('does not replace a sheet that is there without --force', async () => {
		const output = at('mine.toml');
		writeFileSync(output, '# mine\n');
		await expect(run({port: good, output})).rejects.toThrow(/mine\.toml is there already: .*--force/);
		expect(readFileSync(output, 'utf8')).toBe('# mine\n');
		await run({port: good, output, force: true});
		expect(readFileSync(output, 'utf8')).toMatch(/^# As built/);
	});

	it('says that a source without frames has nothing to bring up', async () => {
		const log = at('empty.txt');
		writeFileSync(log, 'hello\r\n');
		await expect(run({port: log})).rejects.toThrow(/has no frame in it: 7 bytes came/);
	});
});

/** A glove on the network that lies still; sends for as long as anybody listens. */
async function stillGlove() {
	const {items} = sampleSimulation(7);
	const early = items.flatMap(item => ('bytes' in item && item.t < 0.5 ? [item.bytes] : []));
	const bytes = Buffer.concat(early);
	let enough = new AbortController();
	const server = createServer(socket => {
		let sent = 0;
		const timer = setInterval(() => {
			socket.write(bytes);
			if (++sent === 8) enough.abort();
		}, 50);
		socket.on('error', () => clearInterval(timer));
		socket.on('close', () => clearInterval(timer));
	});
	await new Promise<void>(resolve => server.listen(0, '127.0.0.1', resolve));
	return {
		port: `tcp://127.0.0.1:${(server.address() as AddressInfo).port}`,
		close: () => server.close(),
		/** Breaks off once the next listener has been sent four seconds of frames, however long that takes. */
		untilHeard: () => (enough = new AbortController()).signal,
	};
}

describe('bringup on a live glove', () => {
	it('prompts on standard error, records with marks, and writes no sheet before it is done', async () => {
		const glove = await stillGlove();
		const output = at('live-as-built.toml');
		const recording = at('live.gbrec');
		const {status, text, talk} = await run({port: glove.port, output, record: recording}, glove.untilHeard());
		glove.close();
		expect(status).toBe(1);
		expect(talk).toContain('Lay the glove down flat and leave it alone for three seconds.');
		expect(talk).toContain('Hold the spool');
		expect(text).toContain('Not reached: rest, reel thumb');
		expect(existsSync(output)).toBe(false);
		expect(readFileSync(recording, 'utf8')).toContain('"mark":"bring-up: rest"');
	});

	it('goes on from where it was broken off, and begins anew when told to', async () => {
		const glove = await stillGlove();
		const output = at('again-as-built.toml');
		const columns = ['thumb', 'index', 'middle', 'ring', 'little', 'stick-x', 'stick-y', 'button-1', 'button-2'];
		const rest = {id: 'rest', outcome: 'done', from: 0, to: 3, column: null, noise: []} as const;
		await writeProgress(progressPath(output), columns, [rest]);
		const goesOn = await run({port: glove.port, output}, glove.untilHeard());
		expect(goesOn.talk).toContain('Thumb reel: pull its cord out');
		expect(goesOn.talk).not.toContain('Lay the glove down');
		// Its time was another session's.
		expect(goesOn.text).toMatch(/^earlier {2}Lay the glove down/m);
		expect(goesOn.text).toMatch(/^stick: open$/m);
		expect(goesOn.talk).toContain('Broken off: the same command goes on from here');
		const fresh = await run({port: glove.port, output, fresh: true}, glove.untilHeard());
		expect(fresh.talk).toContain('Lay the glove down');
		glove.close();
	});
});
