import {mkdtempSync, readFileSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterEach, beforeEach, describe, expect, it} from 'vitest';
import {NetworkGloves} from './network-gloves.ts';
import {glovebench, type ProgramOnScreen} from './program-on-screen.ts';

let folder: string;
let gloves: NetworkGloves;
let program: ProgramOnScreen;

beforeEach(() => {
	folder = mkdtempSync(path.join(tmpdir(), 'links-'));
	gloves = new NetworkGloves();
});

afterEach(() => {
	program.dispose();
	gloves.close();
	rmSync(folder, {recursive: true});
});

describe('a live glove', () => {
	it('is taken up again by itself when its connection breaks, the gap marked in screen and recording', async () => {
		program = glovebench(['attach', await gloves.serve(), '--record', 'day.gbrec'], {cwd: folder});
		await program.until(/little +\S*[[█]/);
		gloves.breakOff();
		await program.until(/PORT GONE for \d+ s/);
		await program.until(text => !text.includes('PORT GONE'));
		program.send('l');
		await program.until(text => /reattached/.test(text) && /port-lost/.test(text));
		program.send('q');
		expect(await program.exited).toBe(0);
		const recorded = readFileSync(path.join(folder, 'day.gbrec'), 'utf8')
			.trimEnd()
			.split('\n')
			.map(line => JSON.parse(line));
		const events = recorded.flatMap(({event}) => event ?? []);
		expect(events).toEqual(['port-lost', 'reattached']);
		const back = recorded.findIndex(({event}) => event === 'reattached');
		expect(recorded.slice(back).some(({rx}) => rx !== undefined)).toBe(true);
	});
});
