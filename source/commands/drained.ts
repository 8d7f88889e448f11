import type {Writable} from 'node:stream';

/** Waits until `out` takes more, or nobody will read it. */
export function drained(out: Writable, signal: AbortSignal): Promise<void> {
	return new Promise(resolve => {
		const done = (): void => {
			out.off('drain', done);
			out.off('close', done);
			out.off('error', done);
			signal.removeEventListener('abort', done);
			resolve();
		};
		out.once('drain', done);
		out.once('close', done);
		out.once('error', done);
		signal.addEventListener('abort', done, {once: true});
	});
}
