import {readFileSync} from 'node:fs';
import path from 'node:path';
import {afterEach, beforeEach, describe, expect, it} from 'vitest';
import {GlovesOnScreen} from './gloves-on-screen.ts';

let screen: GlovesOnScreen;
beforeEach(() => {
	screen = new GlovesOnScreen();
});
afterEach(() => screen.dispose());

describe('a live glove', () => {
	it('is taken up again by itself when its connection breaks, the gap marked in screen and recording', async () => {
		const program = screen.start(['attach', await screen.gloves.serve(), '--record', 'day.gbrec']);
		await program.until(/little +\S*[[█]/);
		screen.gloves.breakOff();
		await program.until(/PORT GONE for \d+ s/);
		await program.until(text => !text.includes('PORT GONE'));
		program.send('l');
		await program.until(text => /reattached/.test(text) && /port-lost/.test(text));
		program.send('q');
		expect(await program.exited).toBe(0);
		const recorded = readFileSync(path.join(screen.folder, 'day.gbrec'), 'utf8')
			.trimEnd()
			.split('\n')
			.map(line => JSON.parse(line));
		const events = recorded.flatMap(({event}) => event ?? []);
		expect(events).toEqual(['port-lost', 'reattached']);
		const back = recorded.findIndex(({event}) => event === 'reattached');
		expect(recorded.slice(back).some(({rx}) => rx !== undefined)).toBe(true);
	});
});
