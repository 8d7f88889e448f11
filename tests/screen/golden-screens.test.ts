import {mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterAll, afterEach, beforeAll, describe, it} from 'vitest';
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
	it('show every page at 80 x 24', async () => {
		program = glovebench(['replay', 'left.gbrec', '--hold', '--at', '28s'], {cwd: folder});
		await program.until(settled);
		expectGolden(program, 'overview-80x24');
		program.send('a');
		await program.until('NEXT');
		expectGolden(program, 'bench-80x24');
		program.send('c');
		await program.until('up and down scroll');
		expectGolden(program, 'checks-80x24');
		program.send('t');
		await program.until('reel re-soldered');
		expectGolden(program, 'trend-80x24');
		program.send('f');
		await program.until('open first');
		expectGolden(program, 'findings-80x24');
		program.send('\r');
		await program.until('the second it began');
		expectGolden(program, 'finding-80x24');
		program.send('l');
		await program.until('frame intervals');
		expectGolden(program, 'link-80x24');
		program.send('s');
		await program.until('dead zone');
		expectGolden(program, 'stick-80x24');
		program.send('?');
		await program.until('this list');
		expectGolden(program, 'keys-80x24');
	});

	it('draw with ASCII where the terminal knows no more', async () => {
		program = glovebench(['replay', 'left.gbrec', '--hold', '--at', '28s'], {cwd: folder, env: {LANG: 'C'}});
		await program.until(/held 1x .* \d:\d\d\.\d [^.]+ \d:\d\d\.\d/);
		expectGolden(program, 'overview-ascii-80x24');
	});
});
