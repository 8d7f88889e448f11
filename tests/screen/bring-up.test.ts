import {existsSync, mkdtempSync, readFileSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import stripAnsi from 'strip-ansi';
import {afterAll, describe, expect, it} from 'vitest';
import {parseSheet} from '../../source/sheet/parse-sheet.ts';
import {playBringUp} from '../bringup/play-bring-up.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'bring-up-'));
afterAll(() => rmSync(folder, {recursive: true}));

// Nothing about the times of frames is asked here: with a clock that runs faster, a slow moment of the machine that runs
// the tests is a long one for the program.
describe.skipIf(process.platform === 'win32')('the guided routine between a terminal and a port', () => {
	it('leads a hand that reads the screen to the table and the sheet as built, cords swapped and a reel reversed', async () => {
		const {status, program, asked, steps} = await playBringUp({
			seed: 7,
			faults: {swapped: ['index', 'ring'], reversed: ['little']},
			framesPerSecond: 50,
			pace: 2,
			clock: 8,
			cwd: folder,
			args: ['-o', 'fox-as-built.toml'],
		});
		// Every step was asked for, in order, and none twice: the routine saw by itself that each was done.
		expect(asked).toEqual(steps);
		expect(status).toBe(1);
		expect(program.cursorShown).toBe(true);
		const text = stripAnsi(program.raw).replaceAll('\r\n', '\n');
		expect(text).toMatch(/Index reel: pull its cord out .*\n +ring answered: rises by [\d.]+ % FS, 3 times/);
		expect(text).toMatch(/Little reel: pull its cord out .*\n +little answered: falls by [\d.]+ % FS, 3 times/);
		const verdicts = ['thumb', 'index', 'middle', 'ring', 'little'].map(name =>
			new RegExp(`^${name} .*(rises|falls) +(pass|fail)$`, 'm').exec(text)?.slice(1),
		);
		expect(verdicts).toEqual([
			['rises', 'pass'],
			['rises', 'fail'],
			['rises', 'pass'],
			['rises', 'fail'],
			['falls', 'fail'],
		]);
		expect(text).toContain('stick: pass');
		const built = parseSheet(readFileSync(path.join(folder, 'fox-as-built.toml'), 'utf8')).sheet!;
		expect(built.channels.map(({name, inverted}) => [name, inverted]).slice(0, 5)).toEqual([
			['thumb', false],
			['ring', false],
			['middle', false],
			['index', false],
			['little', true],
		]);
		expect(existsSync(path.join(folder, 'fox-as-built.progress.json'))).toBe(false);
	});
});
