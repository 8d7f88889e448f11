import type {Readable} from 'node:stream';
import {render} from 'ink';
import type {CommandIo} from '../command-line/command-io.ts';
import {findFault} from '../faults/registry.ts';
import type {Desk} from './desk.ts';
import {FrameStream} from './frame-stream.ts';
import {KeyReader} from './KeyReader.tsx';
import {messageForKey} from './keys.ts';
import type {Look} from './look.ts';
import {Panels} from './Panels.tsx';
import {type Part, sameShape} from './part.ts';
import {screenPart} from './screen-part.ts';
import {allowSuspension, takeKeys} from './suspension.ts';
import {Terminal} from './terminal.ts';
import type {Message} from './view-state.ts';

export type RunOptions = {
	readonly look: Look;
	/** Redraws a second. */
	readonly fps: number;
	/** Where keys come from; null where there are none. */
	readonly keys: (Readable & {readonly isTTY?: boolean}) | null;
};

/** Exit status after Ctrl-C: 128 and the signal's number, as shells report it. */
const interrupted = 130;

/** Reading ahead shares the process with keys and drawing: short slices, one after the other. */
const sliceMs = 12;

/**
 * Draws a desk on the terminal until the user leaves. The only place of the dashboard that has a clock, a terminal and
 * signals. Resolves to the exit status once the terminal is as it was before.
 */
export async function runDashboard(
	desk: Desk,
	options: RunOptions,
	io: Pick<CommandIo, 'stdout' | 'signal'>,
): Promise<number> {
	const {stdout, signal} = io;
	const {look, keys} = options;
	const terminal = new Terminal(stdout, keys ?? {});
	const stream = new FrameStream(stdout);
	let end: (status: number) => void;
	let fail: (error: unknown) => void;
	const ended = new Promise<number>((resolve, reject) => {
		end = resolve;
		fail = reject;
	});
	const now = () => performance.now();

	let drawn: Part | undefined;
	const draw = () => {
		if (!terminal.entered) return;
		const size = {columns: stream.columns, rows: stream.rows};
		const gloves = desk.pictures(size);
		if (desk.takeRing()) stream.ring();
		const part = screenPart({gloves, view: desk.view, ...size, look, catalogue: findFault});
		const changed = stream.book.fill(part, look);
		if (drawn !== undefined && sameShape(drawn, part)) {
			if (changed) stream.refresh();
			return;
		}

		drawn = part;
		ink.rerender(
			<>
				{keys && <KeyReader onKey={onKey} />}
				<Panels part={part} />
			</>,
		);
	};

	const onMessage = (message: Message) => {
		switch (message.type) {
			case 'quit':
				end(0);
				return;
			case 'interrupt':
				end(interrupted);
				return;
			case 'suspend':
				suspension.suspend();
				return;
			case 'redraw':
				repaint();
				return;
			default:
				desk.handle(message);
		}

		draw();
	};

	const onKey = (name: string) => {
		const message = messageForKey(name, desk.view);
		if (message) onMessage(message);
	};

	const repaint = () => {
		stream.forget();
		desk.refresh();
		draw();
		stream.settle();
	};

	const suspension = allowSuspension(terminal.leave, () => {
		if (signal.aborted) return;
		terminal.enter();
		takeKeys(keys);
		repaint();
	});

	const onAbort = () => end(interrupted);

	terminal.enter();
	const ink = render(null, {
		stdout: stream as unknown as NodeJS.WriteStream,
		...(keys && {stdin: keys as unknown as NodeJS.ReadStream}),
		// Every render as one whole frame, at once: the stream below finds out what changed, cell by cell.
		debug: true,
		exitOnCtrlC: false,
		patchConsole: false,
	});
	const failed = ink.waitUntilExit().then(
		() => undefined,
		(error: unknown) => fail(error),
	);
	stdout.on('resize', repaint);
	signal.addEventListener('abort', onAbort);
	if (signal.aborted) onAbort();

	let slice: NodeJS.Timeout | undefined;
	const readAhead = () => {
		try {
			if (desk.readAhead(sliceMs)) slice = setTimeout(readAhead, 1);
		} catch (error) {
			fail(error);
		}
	};

	const tick = async () => {
		try {
			await desk.gather();
			desk.tick(now());
			draw();
			const failure = desk.stations.find(station => station.live?.failure !== undefined)?.live?.failure;
			if (failure !== undefined) fail(failure);
		} catch (error) {
			fail(error);
		}
	};

	readAhead();
	void tick();
	const timer = setInterval(() => void tick(), 1000 / options.fps);

	try {
		return await ended;
	} finally {
		clearInterval(timer);
		clearTimeout(slice);
		signal.removeEventListener('abort', onAbort);
		suspension.end();
		stdout.off('resize', repaint);
		stream.close();
		ink.unmount();
		await failed;
		terminal.leave();
	}
}
