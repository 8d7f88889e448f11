import {afterEach, beforeEach, describe, it} from 'vitest';
import type {ProgramOnScreen} from './program-on-screen.ts';
import {heldAt, ReplayOnScreen} from './replay-on-screen.ts';

let screen: ReplayOnScreen;
beforeEach(() => {
	screen = new ReplayOnScreen();
});
afterEach(() => screen.dispose());

/** Keys in turn, each with what the position line comes to. */
async function press(program: ProgramOnScreen, steps: readonly (readonly [keys: string, time: string])[]) {
	for (const [keys, time] of steps) {
		program.send(keys);
		await program.until(heldAt(time));
	}
}

const [left, right, pageUp, pageDown, home, end] = ['D', 'C', '5~', '6~', 'H', 'F'].map(code => `\u001B[${code}`);

describe('a replay', () => {
	it('goes by its keys to findings, marks, typed times, by seconds, tenths, ends and single frames', async () => {
		const program = screen.start(['replay', 'left.gbrec', '--hold']);
		await program.until(heldAt('0:00.0'));
		await press(program, [
			['n', '0:15.5'],
			['k', '0:20.0'],
			['N', '0:15.5'],
			['w0:30\r', '0:30.0'],
			['K', '0:20.0'],
			[left, '0:15.0'],
			[right, '0:20.0'],
			[pageDown, '0:24.0'],
			[pageUp, '0:20.0'],
			[end, '0:39.9'],
			[home, '0:00.0'],
			['w12.5s\r', '0:12.5'],
		]);
		// A frame is 10 ms: the shown tenth changes with the tenth frame.
		for (let frame = 0; frame < 10; frame++) program.send('>');
		await program.until(heldAt('0:12.6'));
		for (let frame = 0; frame < 10; frame++) program.send('<');
		await program.until(heldAt('0:12.5'));
		program.send('wsoon\r');
		await program.until('"soon" is no time');
	});
});
