import type {Readable} from 'node:stream';
import {CannotError} from '../cannot-error.ts';
import {looksLikeRecording} from '../recording/recording-reader.ts';
import type {Source} from '../stream/source.ts';
import type {SourceItem} from '../stream/source-item.ts';
import {isGzip} from './byte-stream.ts';
import {ItemQueue} from './item-queue.ts';
import {type LiveClock, startClock} from './live-clock.ts';
import {type LiveOptions, liveSource} from './live-source.ts';
import {findLogShape} from './log/find-shape.ts';
import {type LogOptions, sampleBytes} from './log/log-source.ts';
import {openBytes} from './open-file.ts';

/** How long the first bytes may take before the stream counts as live and silent. */
const firstBytesWithinMs = 2000;

/**
 * How long the beginning is watched. `sampleBytes` within this time is 1 MB/s, far beyond any serial line
 * (4,000,000 baud carries 400 kB/s): such a stream is a file, and when its bytes came means nothing.
 */
const watchMs = 250;

/**
 * Standard input, or a named pipe. A recording, a log with times, and a stream that comes as fast as a file does are
 * read as what they are; anything else is live, and its bytes get the time they came at.
 *
 * @throws CannotError for a terminal, and for what `openBytes` refuses.
 */
export async function openStdin(stream: Readable, options: LiveOptions & LogOptions = {}, name = '-'): Promise<Source> {
	if ('isTTY' in stream && stream.isTTY) {
		throw new CannotError(
			'Standard input is a terminal: pipe a stream into it, as in `cat glove.log | glovebench check -`, or name a port or a file.',
		);
	}

	const clock = startClock();
	const begin = new Beginning(stream[Symbol.asyncIterator](), clock);
	await begin.watch(options.signal);
	if (isStored(begin)) {
		const what = name === '-' ? 'Standard input' : name;
		const source = await openBytes(what, untilStopped(begin.all(), stream, options.signal), options, {kind: 'stdin'});
		return {
			...source,
			info: {...source.info, name: source.info.kind === 'recording' ? what : name},
			async close() {
				await source.close();
				stream.destroy();
			},
		};
	}

	const queue = new ItemQueue();
	for (const item of begin.items) queue.push(item satisfies SourceItem);
	const pump = async (): Promise<void> => {
		for await (const bytes of begin.rest()) queue.push({t: clock(), bytes});
	};

	pump().then(
		() => queue.end(),
		() => queue.end(),
	);
	return liveSource(
		{kind: 'stdin', name, timing: 'measured', baud: options.baud ?? null},
		queue,
		clock,
		options,
		() => {
			stream.destroy();
		},
	);
}

/** What comes as fast as a file does, or says when it was received, was received before. */
function isStored({ended, isFull, start}: Beginning): boolean {
	if (ended || isFull || isGzip(start) || looksLikeRecording(start)) return true;
	return findLogShape(start, ended).stamp?.foreign === true;
}

/** The beginning of a stream, with the times at which it came, and the rest of it. */
class Beginning {
	readonly items: {readonly t: number; readonly bytes: Uint8Array}[] = [];
	ended = false;
	readonly #chunks: AsyncIterator<Uint8Array>;
	readonly #clock: LiveClock;
	#size = 0;
	/** A chunk that was asked for and had not come when the watch was over. */
	#next: Promise<IteratorResult<Uint8Array>> | undefined;

	constructor(chunks: AsyncIterator<Uint8Array>, clock: LiveClock) {
		this.#chunks = chunks;
		this.#clock = clock;
	}

	/** True where as much came as is looked at. */
	get isFull(): boolean {
		return this.#size >= sampleBytes;
	}

	get start(): Uint8Array {
		return Buffer.concat(this.items.map(({bytes}) => bytes));
	}

	/** Takes what comes until there is enough, or the time for it is over. */
	async watch(signal: AbortSignal | undefined): Promise<void> {
		let deadline = deadlineIn(firstBytesWithinMs, signal);
		while (!this.ended && !this.isFull) {
			this.#next ??= this.#chunks.next().then(result => ({...result}));
			const result = await Promise.race([this.#next, deadline.passed]);
			if (result === undefined) break;
			this.#next = undefined;
			if (this.#size === 0 && !result.done) {
				deadline.cancel();
				deadline = deadlineIn(watchMs, signal);
			}

			this.#take(result);
		}

		deadline.cancel();
	}

	#take({done, value}: IteratorResult<Uint8Array>): void {
		if (done) {
			this.ended = true;
			return;
		}

		const bytes = typeof value === 'string' ? Buffer.from(value) : value;
		this.items.push({t: this.#clock(), bytes});
		this.#size += bytes.byteLength;
	}

	/** What comes after the beginning. */
	async *rest(): AsyncGenerator<Uint8Array> {
		while (!this.ended) {
			const {value, done} = await (this.#next ?? this.#chunks.next());
			this.#next = undefined;
			if (done) return;
			yield value;
		}
	}

	async *all(): AsyncGenerator<Uint8Array> {
		yield this.start;
		yield* this.rest();
	}
}

function deadlineIn(ms: number, signal?: AbortSignal): {passed: Promise<undefined>; cancel(): void} {
	let cancel = (): void => {};
	const passed = new Promise<undefined>(resolve => {
		const done = (): void => {
			clearTimeout(timer);
			signal?.removeEventListener('abort', done);
			resolve(undefined);
		};

		const timer = setTimeout(done, ms);
		cancel = done;
		if (signal?.aborted) done();
		else signal?.addEventListener('abort', done);
	});
	return {passed, cancel};
}

async function* untilStopped(
	chunks: AsyncIterable<Uint8Array>,
	stream: Readable,
	signal: AbortSignal | undefined,
): AsyncGenerator<Uint8Array> {
	const stop = (): void => void stream.destroy();
	signal?.addEventListener('abort', stop);
	try {
		yield* chunks;
	} catch (error) {
		// A stream that was stopped from our side ends; it does not fail.
		if (!signal?.aborted && !stream.destroyed) throw error;
	} finally {
		signal?.removeEventListener('abort', stop);
	}
}
