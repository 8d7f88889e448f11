import {render} from 'ink';
import type {CommandIo} from '../../command-line/command-io.ts';
import {BringUpScreen} from './BringUpScreen.tsx';
import {KeyInput} from './KeyInput.tsx';
import type {BringUpMessage} from './keys.ts';
import {type ScreenState, screenLines} from './screen-lines.ts';

/** The screen of a running routine. */
export type BringUpView = {
	draw(state: ScreenState): void;
	/** Gives the terminal back; what was drawn last stays on it. */
	close(): void;
};

/** Opens the screen on a terminal. Keys arrive as messages. */
export function openBringUpView(
	{stdin, stdout}: Pick<CommandIo, 'stdin' | 'stdout'>,
	color: boolean,
	onMessage: (message: BringUpMessage) => void,
): BringUpView {
	const frame = (lines: ReturnType<typeof screenLines>) => (
		<>
			<KeyInput onMessage={onMessage} />
			<BringUpScreen lines={lines} color={color} />
		</>
	);
	const ink = render(frame([]), {
		stdout: stdout as unknown as NodeJS.WriteStream,
		stdin: stdin as unknown as NodeJS.ReadStream,
		exitOnCtrlC: false,
		patchConsole: false,
	});
	return {
		draw: state => ink.rerender(frame(screenLines(state, stdout.columns || 80, stdout.rows || 24))),
		close: () => ink.unmount(),
	};
}
