import {EventEmitter} from 'node:events';
import type {Readable} from 'node:stream';
import {stripVTControlCharacters} from 'node:util';
import {render} from 'ink';
import {type CommandIo, interruptedStatus, type Output} from '../command-line/command-io.ts';
import {KeyReader} from '../screen/KeyReader.tsx';
import {allowSuspension, releaseKeys, takeKeys} from '../screen/suspension.ts';
import {asciiText} from '../text/ascii-text.ts';
import type {Desk} from './desk.ts';
import {keepReading} from './keep-reading.ts';
import {messageForKey} from './keys.ts';
import {SpokenLines} from './SpokenLines.tsx';
import {Transcript} from './transcript.ts';

type LineWiseOptions = {
	readonly keys: (Readable & {readonly isTTY?: boolean}) | null;
	/** Nothing but ASCII is sent. */
	readonly ascii: boolean;
};

/** Speech is slower than sight: more often than this nobody can follow. */
const everyMs = 500;

/** Where the output does not say how wide it is. */
const usualColumns = 80;

/** Standard output for Ink, with nothing but text in it: a screen reader, or a terminal that knows no sequences. */
class PlainOutput extends EventEmitter {
	readonly #out: Output;
	readonly #ascii: boolean;

	constructor(out: Output, ascii: boolean) {
		super();
		this.#out = out;
		this.#ascii = ascii;
	}

	get columns(): number {
		return this.#out.columns || usualColumns;
	}

	write(text: string): boolean {
		const plain = stripVTControlCharacters(text);
		return plain === '' || this.#out.write(this.#ascii ? asciiText(plain) : plain);
	}
}

/**
 * The dashboard as lines of text: what happens, as it happens, and any page in sentences when its key is pressed.
 * Resolves to the exit status when the user leaves.
 */
export async function runLineWise(
	desk: Desk,
	{keys, ascii}: LineWiseOptions,
	io: Pick<CommandIo, 'stdout' | 'signal'>,
): Promise<number> {
	const transcript = new Transcript(desk);
	let end: (status: number) => void;
	let fail: (error: unknown) => void;
	const ended = new Promise<number>((resolve, reject) => {
		end = resolve;
		fail = reject;
	});

	const show = () => {
		ink.rerender(
			<>
				{keys && <KeyReader onKey={onKey} />}
				<SpokenLines lines={transcript.lines} />
			</>,
		);
	};

	const tick = async () => {
		try {
			await desk.gather();
			desk.tick(performance.now());
			const hasNews = transcript.tellNews();
			const bells = desk.takeBells();
			if (bells > 0) io.stdout.write('\u0007'.repeat(bells));
			if (hasNews) show();
			const failure = desk.stations.find(station => station.live?.failure !== undefined)?.live?.failure;
			if (failure !== undefined) fail(failure);
		} catch (error) {
			fail(error);
		}
	};

	const onKey = (name: string) => {
		const before = desk.view;
		// A page that is asked for is read out, also the one that was read out last.
		const message = messageForKey(name, before);
		const left = message?.type === 'page' ? desk.handle(message) : desk.press(name);
		for (const effect of left) {
			if (effect.do === 'leave') return end(effect.interrupted ? interruptedStatus : 0);
			if (effect.do === 'suspend') return suspension.suspend();
		}

		transcript.answer(message, before);
		show();
	};

	const suspension = allowSuspension(
		() => releaseKeys(keys),
		() => takeKeys(keys),
	);
	const onAbort = () => end(interruptedStatus);
	const ink = render(null, {
		stdout: new PlainOutput(io.stdout, ascii) as unknown as NodeJS.WriteStream,
		...(keys && {stdin: keys as unknown as NodeJS.ReadStream}),
		isScreenReaderEnabled: true,
		exitOnCtrlC: false,
		patchConsole: false,
	});
	const failed = ink.waitUntilExit().then(
		() => undefined,
		(error: unknown) => fail(error),
	);
	io.signal.addEventListener('abort', onAbort);
	if (io.signal.aborted) onAbort();
	show();
	const stopReading = keepReading(desk, error => fail(error));
	const timer = setInterval(() => void tick(), everyMs);
	try {
		return await ended;
	} finally {
		clearInterval(timer);
		stopReading();
		io.signal.removeEventListener('abort', onAbort);
		suspension.end();
		ink.unmount();
		await failed;
	}
}
