import {EventEmitter} from 'node:events';
import {PassThrough} from 'node:stream';
import stripAnsi from 'strip-ansi';
import {describe, expect, it} from 'vitest';
import type {BringUpMessage} from '../../../source/bringup/view/keys.ts';
import {openBringUpView} from '../../../source/bringup/view/open-view.tsx';
import {screenState} from '../../../source/bringup/view/screen-state.ts';

/** A terminal of 80 × 24 with a keyboard, in memory. */
function terminal() {
	const written: string[] = [];
	const stdout = Object.assign(new EventEmitter(), {
		isTTY: true,
		columns: 80,
		rows: 24,
		write: (text: string) => written.push(text) > 0,
	});
	const stdin = Object.assign(new PassThrough(), {
		isTTY: true,
		setRawMode: () => stdin,
		ref: () => stdin,
		unref: () => stdin,
		setEncoding: () => stdin,
	});
	return {io: {stdin, stdout} as unknown as Parameters<typeof openBringUpView>[0], stdin, written};
}

const turn = () => new Promise(resolve => setTimeout(resolve, 20));

describe('view', () => {
	it('draws the state, hands keys on as messages, and gives the cursor back', async () => {
		const {io, stdin, written} = terminal();
		const messages: BringUpMessage[] = [];
		const view = openBringUpView(io, true, message => messages.push(message));
		view.draw(screenState('COM5', undefined, undefined));
		await turn();
		for (const key of ['s', 'R', 'x', 'q', '\u0003']) {
			stdin.write(key);
			await turn();
		}

		view.close();
		await turn();
		expect(messages).toEqual(['skip', 'repeat', 'quit', 'interrupt']);
		const text = stripAnsi(written.join(''));
		expect(text).toContain('Bring-up of COM5');
		expect(text).toContain('Waiting for frames: is the board sending?');
		// DEC private mode 25: the cursor was hidden and is shown again.
		const all = written.join('');
		expect(all.lastIndexOf('\u001B[?25h')).toBeGreaterThan(all.lastIndexOf('\u001B[?25l'));
	});
});
