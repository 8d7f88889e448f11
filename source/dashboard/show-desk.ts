import process from 'node:process';
import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {type ColorDepth, makeLook, wantsAscii} from '../screen/look.ts';
import {asciiText} from '../text/ascii-text.ts';
import {escapeText} from '../text/escape-text.ts';
import type {Desk} from './desk.ts';
import {openKeys} from './open-desk.ts';

/** Options of every command that shows the dashboard. */
export type ShowOptions = {
	readonly ascii?: boolean;
	readonly color?: boolean;
	/** Redraws a second. Default 10. */
	readonly fps?: number;
	/** Lines instead of a picture, for a screen reader. */
	readonly screenReader?: boolean;
};

/** Ten a second is as fast as figures can be followed, and little enough for a serial console. */
const usualFps = 10;

/** Says, before anything is opened, that a picture needs a terminal. */
export function requireTerminal(io: Pick<CommandIo, 'stdout'>, instead: string): void {
	if (io.stdout.isTTY) return;
	throw new CannotError(`The dashboard needs a terminal to draw on, and standard output is none: try \`${instead}\`.`);
}

/** Whether line after line is wanted: by a screen reader, or a terminal that can't place the cursor. */
export function wantsLines(screenReader: boolean | undefined, environment: NodeJS.ProcessEnv): boolean {
	return screenReader === true || environment.INK_SCREEN_READER === 'true' || environment.TERM === 'dumb';
}

/** Shows a desk in the way this terminal and its user need, until the user leaves. Resolves to the exit status: 2 where a recording broke off. */
export async function showDesk(desk: Desk, options: ShowOptions, io: CommandIo): Promise<number> {
	const environment = process.env;
	const keys = await openKeys(io.stdin);
	const look = makeLook({
		ascii: wantsAscii(options.ascii === true, environment),
		colorDepth: options.color === false ? 1 : colorDepthOf(io.stdout),
	});
	const lineWise = wantsLines(options.screenReader, environment);
	// Ink draws nothing where this is set, whatever it is told; here someone sits in front of a terminal.
	if (environment.CI) environment.CI = 'false';
	const fps = options.fps ?? usualFps;
	let status: number;
	// A terminal that has gone says so by a signal, or when it is written to.
	const ignore = () => {};
	const say = (lines: readonly string[]) => {
		for (const line of lines) io.stderr.write(`${look.ascii ? asciiText(escapeText(line)) : escapeText(line)}\n`);
	};
	keys?.on('error', ignore);
	try {
		if (lineWise) {
			const {runLineWise} = await import('./run-line-wise.tsx');
			status = await runLineWise(desk, {keys, ascii: look.ascii}, io);
		} else {
			const {runDashboard} = await import('./run-dashboard.tsx');
			status = await runDashboard(desk, {look, fps, keys}, io);
		}

		say(desk.partingLines());
	} finally {
		say(await desk.close());
		if (keys !== null && keys !== io.stdin) keys.destroy();
	}

	// Whoever asked for a recording has not got the whole of it.
	return status === 0 && desk.stations.some(({live}) => live?.recordingFailed) ? 2 : status;
}

/** What Node finds out from TERM, COLORTERM and the like. */
export function colorDepthOf(stdout: CommandIo['stdout']): ColorDepth {
	const depth = (stdout as Partial<NodeJS.WriteStream>).getColorDepth?.() as ColorDepth | undefined;
	// Whether there is colour at all was decided for every command alike.
	return depth === undefined || depth === 1 ? 4 : depth;
}
