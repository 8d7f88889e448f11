import type {Readable} from 'node:stream';
import type {CommandIo} from '../command-line/command-io.ts';
import {LiveMount, type LiveMountView} from '../mount/live-mount.ts';
import {liveMountPage, spokenMount} from '../mount/live-mount-page.ts';
import type {Mount, MountChoices} from '../mount/solve-mount.ts';
import type {Look} from '../screen/look.ts';
import {openScreen} from '../screen/screen-host.tsx';
import {openSource} from '../sources/open-source.ts';
import type {Source} from '../stream/source.ts';
import {asciiText} from '../text/ascii-text.ts';
import {escapeText} from '../text/escape-text.ts';
import {MountDesk} from './mount-desk.ts';

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
	const desk = new MountDesk(live, options.bell);
	let failure: unknown;
	let leave = (): void => {};
	const left = new Promise<void>(resolve => {
		leave = resolve;
	});
	const fail = (error: unknown): void => {
		failure = error;
		leave();
	};
	// A log that ends keeps its page until the user has seen it, where there are keys to say so.
	void readPoses(source, live).then(() => {
		if (options.keys === null) leave();
	}, fail);
	io.signal.addEventListener('abort', leave);
	const screen = options.lineWise
		? undefined
		: openScreen(io.stdout, {
				look: options.look,
				keys: options.keys,
				onKey(key) {
					const asked = desk.press(key);
					if (asked === 'leave') leave();
					else if (asked !== undefined) screen?.[asked]();
					draw();
				},
				onStale: () => draw(),
				onFailure: fail,
				isOver: () => io.signal.aborted,
			});
	const draw = (): void => {
		screen?.draw(liveMountPage(desk.view, name, desk.bell, screen.size, options.look, desk.keyLine));
	};
	const tell = (before: LiveMountView | undefined): void => {
		if (screen !== undefined) draw();
		else for (const line of spokenMount(desk.view, before)) io.stderr.write(`${speak(line, options.look.ascii)}\n`);
	};
	const timer = setInterval(
		() => {
			const before = desk.update();
			const bells = live.takeBells();
			if (screen && desk.bell && bells > 0) screen.ring(bells);
			tell(before);
		},
		Math.max(solveMs, 1000 / options.fps),
	);
	tell(undefined);
	try {
		await left;
		desk.update();
	} finally {
		clearInterval(timer);
		io.signal.removeEventListener('abort', leave);
		await source.close();
		await screen?.close();
	}
	if (failure !== undefined) throw failure;
	return {mount: desk.view.mount ?? undefined, isInterrupted: desk.isInterrupted};
}

/** Hands on what a source sends until it ends. */
async function readPoses(source: Source, live: LiveMount): Promise<void> {
	const decoder = new TextDecoder(encoding);
	for await (const batch of source.batches()) {
		for (const item of batch) if ('bytes' in item) live.push(decoder.decode(item.bytes, {stream: true}), item.t);
	}
}

function speak(line: string, ascii: boolean): string {
	const safe = escapeText(line);
	return ascii ? asciiText(safe) : safe;
}
