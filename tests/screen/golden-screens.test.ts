import {afterEach, beforeEach, describe, it} from 'vitest';
import {expectGolden} from './program-on-screen.ts';
import {ReplayOnScreen, settled, settledAscii} from './replay-on-screen.ts';

let screen: ReplayOnScreen;
beforeEach(() => {
	screen = new ReplayOnScreen();
});
afterEach(() => screen.dispose());

describe('screens of a recording held at 0:28', () => {
	it('show every page at 80 x 24', async () => {
		const program = screen.start(['replay', 'left.gbrec', '--hold', '--at', '28s']);
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
		const program = screen.start(['replay', 'left.gbrec', '--hold', '--at', '28s'], {env: {LANG: 'C'}});
		await program.until(settledAscii);
		expectGolden(program, 'overview-ascii-80x24');
	});
});
