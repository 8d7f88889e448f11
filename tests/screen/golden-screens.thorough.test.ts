import {mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterAll, afterEach, beforeAll, describe, expect, it} from 'vitest';
import {floatingRing, playGlove, recordingText} from '../dashboard/play-glove.ts';
import {expectGolden, glovebench, type ProgramOnScreen} from './program-on-screen.ts';

let folder: string;
let program: ProgramOnScreen;

beforeAll(() => {
	folder = mkdtempSync(path.join(tmpdir(), 'golden-'));
	const mark = {t: 20.001, mark: 'ring reel re-soldered 糸'};
	const items = [...playGlove(floatingRing), mark].toSorted((a, b) => a.t - b.t);
	writeFileSync(path.join(folder, 'left.gbrec'), recordingText(items));
	writeFileSync(path.join(folder, 'right.gbrec'), recordingText(playGlove({seconds: 25})));
});

afterAll(() => rmSync(folder, {recursive: true}));
afterEach(() => program.dispose());

/** Everything read ahead: no part of the ruler is dotted any more, so nothing will change by itself. */
const settled = /held 1x .* \d:\d\d\.\d [^·.]+ \d:\d\d\.\d/;

describe('screens of a recording held at 0:28', () => {
	it('grow and shrink with the terminal, and leave no copies behind', async () => {
		program = glovebench(['replay', 'left.gbrec', '--hold', '--at', '28s'], {cwd: folder, columns: 140, rows: 45});
		await program.until(settled);
		expectGolden(program, 'overview-140x45');
		program.send('f');
		await program.until('likely causes');
		expectGolden(program, 'findings-140x45');
		program.send('o');
		program.resize(60, 16);
		await program.until(text => text.includes('buttons') && text.includes('q quit'));
		expectGolden(program, 'overview-60x16');
		program.resize(59, 16);
		await program.until('needs 60 x 16');
		program.resize(80, 24);
		await program.until(text => text.includes('DO FIRST') && text.includes('n finding  a bench  f'));
		expectGolden(program, 'overview-80x24');
	});

	it('have the bench page at every size, in ASCII and without colour', async () => {
		program = glovebench(['replay', 'left.gbrec', '--hold', '--at', '9s', '--page', 'bench'], {
			cwd: folder,
			columns: 120,
			rows: 40,
		});
		await program.until(text => settled.test(text) && text.includes('NEXT'));
		expectGolden(program, 'bench-120x40');
		program.send('o');
		await program.until('counts');
		expectGolden(program, 'overview-120x40');
		program.send('a');
		program.resize(60, 16);
		await program.until(text => text.includes('NEXT') && /q quit$/.test(text));
		expectGolden(program, 'bench-60x16');
		program.dispose();
		const env = {LANG: 'C', NO_COLOR: '1'};
		program = glovebench(['replay', 'left.gbrec', '--hold', '--at', '28s', '--page', 'bench'], {cwd: folder, env});
		await program.until(/held 1x .* \d:\d\d\.\d [^.]+ \d:\d\d\.\d/);
		expectGolden(program, 'bench-ascii-80x24');
		expect(program.raw).not.toMatch(/\u001B\[[\d;]*\b(3\d|4\d|9\d|38|48)[\d;]*m/);
	});

	it('put two gloves side by side', async () => {
		program = glovebench(['replay', 'left.gbrec', 'right.gbrec', '--hold', '--at', '22s'], {
			cwd: folder,
			columns: 140,
			rows: 36,
		});
		await program.until(settled);
		expectGolden(program, 'two-gloves-140x36');
	});
});
