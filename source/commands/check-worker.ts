import {PassThrough} from 'node:stream';
import {parentPort, workerData} from 'node:worker_threads';
import type {CheckOptions} from './check.ts';
import {type CheckedOne, checkOne} from './check-one.ts';

/** What a thread is told: which of the sources to read next, or to stop. */
type ToWorker = {readonly index: number; readonly name: string} | 'stop';

/** What it tells: how far it is, what came of a source, or that something is wrong with the program. */
export type FromWorker =
	| {readonly index: number; readonly share: number}
	| {readonly index: number; readonly checked: CheckedOne}
	| {readonly index: number; readonly defect: string};

/** Shares of a source that are told apart. */
const steps = 50;

const options = workerData as CheckOptions;
const cancel = new AbortController();
parentPort?.on('message', (message: ToWorker) => {
	if (message === 'stop') cancel.abort();
	else void check(message.index, message.name);
});

async function check(index: number, name: string): Promise<void> {
	const tell = (message: FromWorker): void => parentPort?.postMessage(message);
	let told = 0;
	try {
		const checked = await checkOne(name, options, {stdin: new PassThrough(), signal: cancel.signal}, share => {
			if (Math.floor(share * steps) <= told) return;
			told = Math.floor(share * steps);
			tell({index, share});
		});
		// What a snapshot works out when it is asked does not cross threads by itself.
		tell({index, checked: 'why' in checked ? checked : {...checked, snapshot: {...checked.snapshot}}});
	} catch (error) {
		tell({index, defect: error instanceof Error ? (error.stack ?? error.message) : String(error)});
	}
}
