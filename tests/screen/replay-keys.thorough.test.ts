import {afterEach, beforeEach, describe, it} from 'vitest';
import {heldAt, ReplayOnScreen} from './replay-on-screen.ts';

let screen: ReplayOnScreen;
beforeEach(() => {
	screen = new ReplayOnScreen();
});
afterEach(() => screen.dispose());

const left = '\u001B[D';

describe('a replay', () => {
	it('plays at the speed of the keys 1 to 9, holds, and cycles', async () => {
		const program = screen.start(['replay', 'left.gbrec', '--hold']);
		await program.until(heldAt('0:00.0'));
		for (const [key, speed] of [...'123456789'].map(
			(digit, index) => [digit, [0.1, 0.25, 0.5, 1, 2, 5, 10, 30, 100][index]] as const,
		)) {
			program.send(key);
			await program.until(`held ${speed}x `);
		}

		program.send('y ');
		// At 100x the forty seconds are over in less than one; cycling, it begins again by itself.
		await program.until(/play 100x loop {2}0:3\d/);
		await program.until(/play 100x loop {2}0:0\d/);
		program.send(' ');
		await program.until('held 100x loop');
	});

	it('plays two recordings together, side by side or one at a time', async () => {
		const program = screen.start(['replay', 'left.gbrec', 'right.gbrec', '--hold', '--at', '22s']);
		await program.until(/left\.gbrec .*glove 1\/2 recording 0:22/);
		program.send('g');
		await program.until(/right\.gbrec .*glove 2\/2 recording 0:22/);
		program.resize(140, 36);
		await program.until(/left\.gbrec .*glove 1\/2 recording 0:22 │ right\.gbrec/);
		program.send(left);
		await program.until(/glove 1\/2 recording 0:17 │ .*glove 2\/2 recording 0:17/);
	});

	it('zooms and moves a held trend of several channels', async () => {
		const program = screen.start(['replay', 'left.gbrec', '--hold', '--at', '28s', '--page', 'trend']);
		await program.until(/ 20 s {2}── ring/);
		program.send('\u001B[B');
		program.send('\r');
		program.send('\u001B[B');
		await program.until(/── index {2}━━ thumb/);
		program.send('-');
		await program.until(/^ (?!20 s)\d+ \S+ {2}──/m);
		program.send('+');
		await program.until(/ 20 s {2}──/);
	});
});
