import {afterEach, beforeEach, describe, expect, it} from 'vitest';
import {expectGolden} from './program-on-screen.ts';
import {ReplayOnScreen, settled, settledAscii} from './replay-on-screen.ts';

let screen: ReplayOnScreen;
beforeEach(() => {
	screen = new ReplayOnScreen();
});
afterEach(() => screen.dispose());

describe('screens of a recording held at 0:28', () => {
	it('grow and shrink with the terminal, and leave no copies behind', async () => {
		const program = screen.start(['replay', 'left.gbrec', '--hold', '--at', '28s'], {columns: 140, rows: 45});
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
		const program = screen.start(['replay', 'left.gbrec', '--hold', '--at', '9s', '--page', 'bench'], {
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
		const env = {LANG: 'C', NO_COLOR: '1'};
		const plain = screen.start(['replay', 'left.gbrec', '--hold', '--at', '28s', '--page', 'bench'], {env});
		await plain.until(settledAscii);
		expectGolden(plain, 'bench-ascii-80x24');
		expect(plain.raw).not.toMatch(/\u001B\[[\d;]*\b(3\d|4\d|9\d|38|48)[\d;]*m/);
	});

	it('put two gloves side by side', async () => {
		const program = screen.start(['replay', 'left.gbrec', 'right.gbrec', '--hold', '--at', '22s'], {
			columns: 140,
			rows: 36,
		});
		await program.until(settled);
		expectGolden(program, 'two-gloves-140x36');
	});
});
