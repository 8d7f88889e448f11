import {type IPty, spawn} from '@lydell/node-pty';
import {cpuSeconds, residentMib, wait} from './process-watch.ts';

/** A program in a pseudo-terminal: when it first painted, what it writes and what it burns. */
export class ProgramInPty {
	readonly #pty: IPty;
	readonly #watchers = new Set<(data: string) => void>();
	readonly #startedMs = performance.now();
	/** Start to the first text that is no control sequence. */
	firstPaintMs = Number.NaN;
	bytes = 0;

	constructor(args: readonly string[], size: {readonly columns: number; readonly rows: number}) {
		this.#pty = spawn(process.execPath, [...args], {
			name: 'xterm-256color',
			cols: size.columns,
			rows: size.rows,
			env: {...process.env, TERM: 'xterm-256color', COLORTERM: '', LANG: 'C.UTF-8'} as Record<string, string>,
		});
		this.#pty.onData(data => {
			const text = data.replaceAll(/\u001b\[[0-9;?]*[A-Za-z]/g, '').trim();
			if (Number.isNaN(this.firstPaintMs) && text !== '') this.firstPaintMs = performance.now() - this.#startedMs;
			this.bytes += Buffer.byteLength(data);
			for (const watcher of this.#watchers) watcher(data);
		});
	}

	send(keys: string): void {
		this.#pty.write(keys);
	}

	onData(watcher: (data: string) => void): () => void {
		this.#watchers.add(watcher);
		return () => this.#watchers.delete(watcher);
	}

	/** Processor time used so far, user and system, all threads, seconds; NaN where /proc does not tell. */
	get cpuSeconds(): number {
		return cpuSeconds(this.#pty.pid) ?? Number.NaN;
	}

	/** Resident memory now, MiB. */
	get residentMib(): number {
		return residentMib(this.#pty.pid);
	}

	async until(holds: () => boolean, timeoutMs = 60_000): Promise<void> {
		const deadline = performance.now() + timeoutMs;
		while (!holds()) {
			if (performance.now() > deadline) throw new Error('The program never came to it.');
			await wait(2);
		}
	}

	end(): void {
		this.#pty.kill();
	}
}
