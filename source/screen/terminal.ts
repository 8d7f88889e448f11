import process from 'node:process';
import type {Output} from '../command-line/command-io.ts';

/** Alternate screen, cursor away (xterm control sequences: DEC private modes 1049 and 25). */
const enterSequence = '\u001B[?1049h\u001B[?25l\u001B[2J';
const leaveSequence = '\u001B[m\u001B[?25h\u001B[?1049l';

type TerminalInput = {
	readonly isTTY?: boolean;
	setRawMode?(raw: boolean): unknown;
};

/**
 * The terminal as long as the dashboard has it. Whatever ends the dashboard, `leave` puts back the screen that was
 * there before, the cursor and the input mode; it may be called any number of times.
 */
export class Terminal {
	readonly #out: Output;
	readonly #input: TerminalInput;
	#entered = false;

	constructor(out: Output, input: TerminalInput) {
		this.#out = out;
		this.#input = input;
	}

	/** False while the screen is someone else's. */
	get entered(): boolean {
		return this.#entered;
	}

	enter(): void {
		if (this.#entered) return;
		this.#entered = true;
		// Node writes to terminals synchronously: one that has stopped reading would stop the recording with it.
		this.#setBlocking(false);
		this.#out.write(enterSequence);
		// Not on a crash alone: whoever calls process.exit() leaves this way too.
		process.on('exit', this.leave);
		// Before the message about the crash is printed, or it would vanish with the alternate screen.
		process.on('uncaughtExceptionMonitor', this.leave);
	}

	readonly leave = (): void => {
		if (!this.#entered) return;
		this.#entered = false;
		process.off('exit', this.leave);
		process.off('uncaughtExceptionMonitor', this.leave);
		try {
			if (this.#input.isTTY) this.#input.setRawMode?.(false);
			// Nothing queued behind a stopped terminal: then there is no use in waiting for it.
			if (this.#out.writableLength === 0) this.#setBlocking(true);
			this.#out.write(leaveSequence);
		} catch {
			// The terminal is gone (SIGHUP): nothing is left to restore.
		}
	};

	/** `_handle` is Node's own; where it is missing, writes stay as they are. */
	#setBlocking(blocking: boolean): void {
		const {_handle: handle} = this.#out as unknown as {_handle?: {setBlocking?(blocking: boolean): void}};
		handle?.setBlocking?.(blocking);
	}
}
