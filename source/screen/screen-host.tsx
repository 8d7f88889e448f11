import {EventEmitter} from 'node:events';
import type {Readable} from 'node:stream';
import {render} from 'ink';
import type {Output} from '../command-line/command-io.ts';
import {KeyReader} from './KeyReader.tsx';
import type {Look} from './look.ts';
import {Panels, type Place} from './Panels.tsx';
import {type Part, panelsOf, sameShape} from './part.ts';
import {ScreenOutput} from './screen-output.ts';
import {allowSuspension, takeKeys} from './suspension.ts';
import {Terminal} from './terminal.ts';

type HostOptions = {
	readonly look: Look;
	/** Where keys come from; null where there are none. */
	readonly keys: (Readable & {readonly isTTY?: boolean}) | null;
	readonly onKey: (name: string) => void;
	/** The screen has to be drawn anew: another size, or it was someone else's. */
	readonly onStale: () => void;
	/** A component or the terminal has failed. */
	readonly onFailure: (error: unknown) => void;
	/** True once the terminal must not be taken again. */
	readonly isOver: () => boolean;
};

/** The terminal as long as a program draws on it whole. */
type ScreenHost = {
	readonly size: {readonly columns: number; readonly rows: number};
	draw(part: Part): void;
	ring(times: number): void;
	/** Draws everything afresh. */
	repaint(): void;
	/** Back to the shell for a while. */
	suspend(): void;
	/** Gives the terminal back. Resolves once it is as it was before. */
	close(): Promise<void>;
};

/** What Ink takes for the terminal: it reads the keys, lays out and keeps the life of the components; the bytes are ours. */
class InkOutput extends EventEmitter {
	readonly #screen: ScreenOutput;

	constructor(screen: ScreenOutput) {
		super();
		this.#screen = screen;
	}

	get columns(): number {
		return this.#screen.columns;
	}

	get rows(): number {
		return this.#screen.rows;
	}

	write(): boolean {
		return true;
	}
}

/** Takes the terminal, and draws parts on it: rows with tones become cells, their difference becomes bytes. */
export function openScreen(stdout: Output, options: HostOptions): ScreenHost {
	const {look, keys, onKey, onStale, onFailure, isOver} = options;
	const terminal = new Terminal(stdout, keys ?? {});
	const output = new ScreenOutput(stdout, look);
	let laidOut: Part | undefined;
	let places: readonly Place[] = [];
	terminal.enter();
	const ink = render(null, {
		stdout: new InkOutput(output) as unknown as NodeJS.WriteStream,
		...(keys && {stdin: keys as unknown as NodeJS.ReadStream}),
		// Every render at once: the places of the panels are asked for right after it.
		debug: true,
		exitOnCtrlC: false,
		patchConsole: false,
	});
	const failed = ink.waitUntilExit().then(() => undefined, onFailure);

	const draw = (part: Part): void => {
		if (!terminal.entered) return;
		// Only another shape has to be laid out: rows that change go straight to their places.
		if (laidOut === undefined || !sameShape(laidOut, part)) {
			laidOut = part;
			ink.rerender(
				<>
					{keys && <KeyReader onKey={onKey} />}
					<Panels
						part={part}
						look={look}
						onPlaced={found => {
							places = found;
						}}
					/>
				</>,
			);
		}

		output.show(panelsOf(part).map((panel, index) => ({panel, ...(places[index] ?? {x: 0, y: 0})})));
	};

	const repaint = (): void => {
		output.forget();
		onStale();
		output.settle();
	};

	const suspension = allowSuspension(terminal.leave, () => {
		if (isOver()) return;
		terminal.enter();
		takeKeys(keys);
		repaint();
	});
	stdout.on('resize', repaint);
	return {
		get size() {
			return {columns: output.columns, rows: output.rows};
		},
		draw,
		ring: times => output.ring(times),
		repaint,
		suspend: () => suspension.suspend(),
		async close() {
			suspension.end();
			stdout.off('resize', repaint);
			output.close();
			ink.unmount();
			await failed;
			terminal.leave();
		},
	};
}
