import {render} from 'ink';
import type {CommandIo} from '../../command-line/command-io.ts';
import {allowSuspension, releaseKeys, takeKeys} from '../../screen/suspension.ts';
import {BringUpScreen} from './BringUpScreen.tsx';
import {KeyInput} from './KeyInput.tsx';
import type {BringUpMessage} from './keys.ts';
import {type ScreenState, screenLines} from './screen-lines.ts';

/** DEC private mode 25. Ink hides the cursor once and does not know that it was shown in between. */
const showCursor = '\u001B[?25h';
const hideCursor = '\u001B[?25l';

/** The screen of a running routine. */
export type BringUpView = {
	/** Without a state: nothing. */
	draw(state: ScreenState | undefined): void;
	/** Gives the terminal back; what was drawn last stays on it. */
	close(): void;
};

/** Opens the screen on a terminal. Keys arrive as messages. */
export function openBringUpView(
	{stdin, stdout}: Pick<CommandIo, 'stdin' | 'stdout'>,
	color: boolean,
	onMessage: (message: BringUpMessage) => void,
): BringUpView {
	const take = (message: BringUpMessage) => {
		if (message === 'suspend') suspension.suspend();
		else onMessage(message);
	};
	const frame = (lines: ReturnType<typeof screenLines>) => (
		<>
			<KeyInput onMessage={take} />
			<BringUpScreen lines={lines} color={color} />
		</>
	);
	const ink = render(frame([]), {
		stdout: stdout as unknown as NodeJS.WriteStream,
		stdin: stdin as unknown as NodeJS.ReadStream,
		exitOnCtrlC: false,
		patchConsole: false,
	});
	// Rejects where a component throws. Left uncaught, so that it ends the program as every defect does.
	void ink.waitUntilExit();
	let drawn = '';
	const suspension = allowSuspension(
		() => {
			releaseKeys(stdin);
			stdout.write(showCursor);
		},
		() => {
			takeKeys(stdin);
			stdout.write(hideCursor);
			drawn = '';
		},
	);
	return {
		draw(state) {
			const lines = state === undefined ? [] : screenLines(state, stdout.columns || 80, stdout.rows || 24);
			// A glove that lies still costs no drawing: while it is drawn, frames wait.
			const key = JSON.stringify([lines, stdout.columns, stdout.rows]);
			if (key === drawn) return;
			drawn = key;
			ink.rerender(frame(lines));
		},
		close() {
			suspension.end();
			ink.unmount();
		},
	};
}
