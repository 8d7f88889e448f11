import {readFileSync, writeFileSync} from 'node:fs';
import {fileURLToPath} from 'node:url';
import {type IPty, spawn} from '@lydell/node-pty';
import pkg from '@xterm/headless';
import {expect} from 'vitest';
import {cliPath} from '../cli/run-cli.ts';

export type ScreenOptions = {
	readonly columns?: number;
	readonly rows?: number;
	/** Where it runs. */
	readonly cwd?: string;
	readonly env?: Readonly<Record<string, string>>;
};

const environment = {
	PATH: process.env.PATH ?? '',
	HOME: process.env.HOME ?? '',
	TERM: 'xterm-256color',
	LANG: 'C.UTF-8',
};

/** The built program in a pseudo-terminal, and what a terminal of another make shows of it. */
export class ProgramOnScreen {
	readonly #pty: IPty;
	readonly #terminal;
	readonly #watchers = new Set<() => void>();
	/** Everything the program wrote, as it came. */
	raw = '';
	/** Resolves to the exit status, 128 and the number after a signal, once everything written is on the screen. */
	readonly exited: Promise<number>;

	constructor(command: string, args: readonly string[], options: ScreenOptions = {}) {
		const {columns = 80, rows = 24, cwd, env} = options;
		this.#terminal = new pkg.Terminal({cols: columns, rows, allowProposedApi: true});
		this.#pty = spawn(command, [...args], {
			name: 'xterm-256color',
			cols: columns,
			rows,
			...(cwd !== undefined && {cwd}),
			env: {...environment, ...env},
		});
		this.#pty.onData(data => {
			this.raw += data;
			this.#terminal.write(data, () => {
				for (const watcher of this.#watchers) watcher();
			});
		});
		this.exited = new Promise(resolve => {
			this.#pty.onExit(({exitCode, signal = 0}) =>
				this.#terminal.write('', () => resolve(signal > 0 ? 128 + signal : exitCode)),
			);
		});
	}

	get pid(): number {
		return this.#pty.pid;
	}

	/** The lines on the screen, without the blanks at their ends. */
	get lines(): string[] {
		const {active} = this.#terminal.buffer;
		return Array.from(
			{length: this.#terminal.rows},
			(_, y) =>
				active
					.getLine(active.viewportY + y)
					?.translateToString(true)
					.trimEnd() ?? '',
		);
	}

	get text(): string {
		return this.lines.join('\n').trimEnd();
	}

	get onAlternateScreen(): boolean {
		return this.#terminal.buffer.active.type === 'alternate';
	}

	get cursorShown(): boolean {
		return this.raw.lastIndexOf('\u001B[?25h') >= this.raw.lastIndexOf('\u001B[?25l');
	}

	send(keys: string): void {
		this.#pty.write(keys);
	}

	resize(columns: number, rows: number): void {
		this.#terminal.resize(columns, rows);
		this.#pty.resize(columns, rows);
	}

	/** Stops taking what the program writes, as a terminal on a stalled line does. */
	pause(): void {
		this.#pty.pause();
	}

	resume(): void {
		this.#pty.resume();
	}

	/** Sends a signal to the program. */
	kill(signal: NodeJS.Signals): void {
		process.kill(this.pid, signal);
	}

	/** A frame of some size is announced and closed (DEC mode 2026); in between the screen is neither old nor new. */
	get #isMidFrame(): boolean {
		return this.raw.lastIndexOf('\u001B[?2026h') > this.raw.lastIndexOf('\u001B[?2026l');
	}

	/** Waits until the screen is as told; says what was on it when it did not come to that. */
	async until(isThere: string | RegExp | ((text: string) => boolean), timeoutMs = 120_000): Promise<string> {
		const holds = () => {
			if (this.#isMidFrame) return false;
			const {text} = this;
			if (typeof isThere === 'string') return text.includes(isThere);
			return typeof isThere === 'function' ? isThere(text) : isThere.test(text);
		};
		if (holds()) return this.text;
		await new Promise<void>((resolve, reject) => {
			const watcher = () => {
				if (!holds()) return;
				clearTimeout(timer);
				this.#watchers.delete(watcher);
				resolve();
			};
			const timer = setTimeout(() => {
				this.#watchers.delete(watcher);
				reject(new Error(`Waited in vain for ${isThere}. On the screen:\n${this.text}`));
			}, timeoutMs);
			this.#watchers.add(watcher);
		});
		return this.text;
	}

	/** Takes the terminal away from the program, as when its window is closed. */
	hangUp(): void {
		(this.#pty as unknown as {destroy(): void}).destroy();
	}

	/** Ends the program if it still runs, whatever a test came to. */
	dispose(): void {
		try {
			this.#pty.kill('SIGKILL');
		} catch {
			// It has ended already.
		}
	}
}

/** `glovebench …` on a screen. */
export function glovebench(args: readonly string[], options?: ScreenOptions): ProgramOnScreen {
	return new ProgramOnScreen(process.execPath, [cliPath, ...args], options);
}

/**
 * Compares a screen with its golden file; with GOLDEN=write in the environment it becomes the file. `steady` takes out what is
 * another each time.
 */
export function expectGolden(
	program: ProgramOnScreen,
	name: string,
	steady: (text: string) => string = text => text,
): void {
	const file = fileURLToPath(new URL(`golden/${name}.txt`, import.meta.url));
	const text = steady(`${program.text}\n`);
	if (process.env.GOLDEN === 'write') writeFileSync(file, text);
	expect(text).toBe(readFileSync(file, 'utf8'));
}
