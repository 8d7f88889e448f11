import type {Readable} from 'node:stream';
import type {CommandIo} from '../command-line/command-io.ts';
import {LiveMount, type LiveMountView} from '../mount/live-mount.ts';
import {liveMountPage, spokenMount} from '../mount/live-mount-page.ts';
import type {Mount, MountChoices} from '../mount/solve-mount.ts';
import type {KeyName} from '../screen/key-name.ts';
import type {Look} from '../screen/look.ts';
import {openScreen} from '../screen/screen-host.tsx';
import {openSource} from '../sources/open-source.ts';
import {asciiText} from '../text/ascii-text.ts';
import {escapeText} from '../text/escape-text.ts';
import {mountKeyLine, mountMessage} from './mount-keys.ts';

type MountScreenOptions = {
	readonly choices: MountChoices;
	readonly device: string | undefined;
	readonly look: Look;
	readonly fps: number;
	readonly bell: boolean;
	/** Lines instead of a picture. */
	readonly lineWise: boolean;
	readonly keys: (Readable & {readonly isTTY?: boolean}) | null;
};

/** Solving anew more often than this shows nothing that an eye could follow. */
const solveMs = 500;

/** Poses of one log are decoded in UTF-8, as every line of a connection is. */
const encoding = 'utf-8';

/**
 * The live page on a connection or a pipe, until the user leaves or the poses end. Resolves to the offset as it then is;
 * undefined where none could be solved; and whether it was ctrl-c that ended it.
 */
export async function runMountScreen(
	name: string,
	options: MountScreenOptions,
	io: CommandIo,
): Promise<{readonly mount: Mount | undefined; readonly isInterrupted: boolean}> {
	const source = await openSource(name, {stdin: io.stdin, signal: io.signal});
	const live = new LiveMount(name, options.choices, options.device);
	let view: LiveMountView = live.update();
	let bell = options.bell;
	let failure: unknown;
	let leave = (): void => {};
	const left = new Promise<void>(resolve => {
		leave = resolve;
	});
	const reading = (async () => {
		const decoder = new TextDecoder(encoding);
		for await (const batch of source.batches()) {
			for (const item of batch) if ('bytes' in item) live.push(decoder.decode(item.bytes, {stream: true}), item.t);
		}
	})().catch((error: unknown) => {
		failure = error;
	});
	// A log that ends keeps its page until the user has seen it, where there are keys to say so.
	void reading.then(() => {
		if (options.keys === null || failure !== undefined) leave();
	});

	let isInterrupted = false;
	/** Said in the place of the keys until the next one. */
	let notice: string | undefined;
	const press = (key: KeyName): void => {
		notice = undefined;
		const message = mountMessage(key);
		if (message?.type === 'quit') leave();
		else if (message?.type === 'interrupt') {
			isInterrupted = true;
			leave();
		} else if (message?.type === 'guide' && message.what === 'skip') live.skip();
		else if (message?.type === 'guide') live.again();
		else if (message?.type === 'bell') bell = !bell;
		else if (message?.type === 'suspend') screen?.suspend();
		else if (message?.type === 'redraw') screen?.repaint();
		else notice = ` ${escapeText(key)} does nothing here.${mountKeyLine(bell)}`;
		view = live.update();
	};
	io.signal.addEventListener('abort', leave);
	const screen = options.lineWise
		? undefined
		: openScreen(io.stdout, {
				look: options.look,
				keys: options.keys,
				onKey(key) {
					press(key);
					draw();
				},
				onStale: () => draw(),
				onFailure(error) {
					failure = error;
					leave();
				},
				isOver: () => io.signal.aborted,
			});
	const draw = (): void => {
		screen?.draw(liveMountPage(view, name, bell, screen.size, options.look, notice ?? mountKeyLine(bell)));
	};
	const timer = setInterval(
		() => {
			const before = view;
			view = live.update();
			const bells = live.takeBells();
			if (screen && bell && bells > 0) screen.ring(bells);
			if (screen === undefined) {
				for (const line of spokenMount(view, before)) io.stderr.write(`${speak(line, options.look.ascii)}\n`);
			}
			draw();
		},
		Math.max(solveMs, 1000 / options.fps),
	);
	if (screen === undefined)
		for (const line of spokenMount(view, undefined)) io.stderr.write(`${speak(line, options.look.ascii)}\n`);
	draw();
	try {
		await left;
		view = live.update();
	} finally {
		clearInterval(timer);
		io.signal.removeEventListener('abort', leave);
		await source.close();
		await screen?.close();
	}
	if (failure !== undefined) throw failure;
	return {mount: view.mount ?? undefined, isInterrupted};
}

function speak(line: string, ascii: boolean): string {
	const safe = escapeText(line);
	return ascii ? asciiText(safe) : safe;
}
