import type {Readable} from 'node:stream';
import {CannotError} from '../cannot-error.ts';
import {looksLikeRecording} from '../recording/recording-reader.ts';
import type {Source} from '../stream/source.ts';
import type {SourceItem} from '../stream/source-item.ts';
import {isGzip} from './byte-stream.ts';
import {ItemQueue} from './item-queue.ts';
import {startClock} from './live-clock.ts';
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
	const chunks: AsyncIterator<Uint8Array> = stream[Symbol.asyncIterator]();
	const begun: {t: number; bytes: Uint8Array}[] = [];
	let size = 0;
	let ended = false;
	let next: Promise<IteratorResult<Uint8Array>> | undefined;
	let deadline = deadlineIn(firstBytesWithinMs, options.signal);
	while (!ended && size < sampleBytes) {
		next ??= chunks.next().then(result => ({...result}));
		const result = await Promise.race([next, deadline.passed]);
		if (result === undefined) break;
		next = undefined;
		if (result.done) {
			ended = true;
		} else {
			if (size === 0) {
				deadline.cancel();
				deadline = deadlineIn(watchMs, options.signal);
			}

			const bytes = typeof result.value === 'string' ? Buffer.from(result.value) : result.value;
			begun.push({t: clock(), bytes});
			size += bytes.byteLength;
		}
	}

	deadline.cancel();
	const start = Buffer.concat(begun.map(({bytes}) => bytes));
	const stamped = (): boolean => findLogShape(start, ended).stamp?.foreign === true;
	if (ended || size >= sampleBytes || isGzip(start) || looksLikeRecording(start) || stamped()) {
		const rest = async function* (): AsyncGenerator<Uint8Array> {
			yield start;
			while (!ended) {
				const {value, done} = await (next ?? chunks.next());
				next = undefined;
				if (done) return;
				yield value;
			}
		};

		const what = name === '-' ? 'Standard input' : name;
		const source = await openBytes(what, untilStopped(rest(), stream, options.signal), options, {kind: 'stdin'});
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
	for (const item of begun) queue.push(item satisfies SourceItem);
	const pump = async (): Promise<void> => {
		for (;;) {
			const {value, done} = await (next ?? chunks.next());
			next = undefined;
			if (done) break;
			queue.push({t: clock(), bytes: value});
		}
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
