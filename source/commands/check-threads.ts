import {existsSync, statSync} from 'node:fs';
import {availableParallelism} from 'node:os';
import {fileURLToPath} from 'node:url';
import {Worker} from 'node:worker_threads';
import {itemAt} from '../item-at.ts';
import {sumOf} from '../math/sums.ts';
import type {CheckOptions} from './check.ts';
import type {CheckedOne} from './check-one.ts';
import type {FromWorker} from './check-worker.ts';

/**
 * A thread has to load and compile the program by itself, which takes as long as reading some megabytes: with less to read,
 * one after the other is as quick.
 */
const worthBytes = 4e6;

/** The threads' program, where the build has put it; there is none where all of it is one file. */
const program = new URL('./check-worker.js', import.meta.url);

/** How many threads are worth it for these sources: none unless all of them are files, and large. */
export function threadsFor(names: readonly string[], cores = availableParallelism(), least = worthBytes): number {
	const count = Math.min(cores, names.length);
	if (count < 2 || !existsSync(fileURLToPath(program))) return 0;
	let bytes = 0;
	for (const name of names) {
		const stat = name === '-' ? undefined : statSync(name, {throwIfNoEntry: false});
		if (stat?.isFile() !== true) return 0;
		bytes += stat.size;
	}

	return bytes >= least ? count : 0;
}

/** Reads sources on several threads, one source each; what came of them, in the order of their names, as it comes. */
export async function* checkInThreads(
	names: readonly string[],
	options: CheckOptions,
	signal: AbortSignal,
	threads: number,
	progress: (share: number) => void,
	script = program,
): AsyncGenerator<CheckedOne> {
	const shares = new Float64Array(names.length);
	const waiting = names.map(() => new Promised<CheckedOne>());
	let next = 0;
	const workers = Array.from({length: threads}, () => new Worker(script, {workerData: options}));
	const stop = () => {
		for (const one of workers) one.postMessage('stop');
	};
	signal.addEventListener('abort', stop, {once: true});
	try {
		for (const one of workers) {
			const give = () => {
				if (next < names.length) one.postMessage({index: next, name: names[next++]});
			};
			one.on('message', (message: FromWorker) => {
				if ('share' in message) {
					shares[message.index] = message.share;
					progress(sumOf(shares) / names.length);
					return;
				}
				shares[message.index] = 1;
				if ('defect' in message) itemAt(waiting, message.index).reject(new Error(message.defect));
				else itemAt(waiting, message.index).resolve(message.checked);
				give();
			});
			one.on('error', error => {
				for (const promised of waiting) promised.reject(error);
			});
			give();
		}
		if (signal.aborted) stop();
		for (const {promise} of waiting) yield await promise;
	} finally {
		signal.removeEventListener('abort', stop);
		await Promise.all(workers.map(one => one.terminate()));
	}
}

/** A promise that is kept from outside. Nobody may be waiting yet when it is broken. */
class Promised<T> {
	resolve!: (value: T) => void;
	reject!: (error: unknown) => void;
	readonly promise = new Promise<T>((resolve, reject) => {
		this.resolve = resolve;
		this.reject = reject;
	});

	constructor() {
		this.promise.catch(() => {});
	}
}
