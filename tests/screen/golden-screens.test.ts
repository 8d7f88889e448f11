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
		for (const [key, shows, page] of [
			['a', 'NEXT', 'bench'],
			['c', 'up and down scroll', 'checks'],
			['t', 'reel re-soldered', 'trend'],
			['f', 'open first', 'findings'],
			['\r', 'the second it began', 'finding'],
			['l', 'frame intervals', 'link'],
			['s', 'dead zone', 'stick'],
			['?', 'this list', 'keys'],
		] as const) {
			program.send(key);
			await program.until(shows);
			expectGolden(program, `${page}-80x24`);
		}
	});

	it('draw with ASCII where the terminal knows no more', async () => {
		const program = screen.start(['replay', 'left.gbrec', '--hold', '--at', '28s'], {env: {LANG: 'C'}});
		await program.until(settledAscii);
		expectGolden(program, 'overview-ascii-80x24');
	});
});
