import type {Readable, Writable} from 'node:stream';

/** A stream to write to, and what is known of the terminal behind it, if any. */
export type Output = Writable & {
	readonly isTTY?: boolean;
	readonly columns?: number | undefined;
	readonly rows?: number;
};

/** What a command may touch of the process. Results go to `stdout`, talk to `stderr`. */
export type CommandIo = {
	readonly stdin: Readable & {readonly isTTY?: boolean};
	readonly stdout: Output;
	readonly stderr: Output;
	/** Aborted by Ctrl-C, SIGTERM, SIGHUP, and when the reader of `stdout` has gone: finish what is useful and return. */
	readonly signal: AbortSignal;
};

/** Exit status after Ctrl-C: 128 and the number of SIGINT, as shells report it (POSIX). */
export const interruptedStatus = 130;

/** A command: does its work and resolves to the exit status. Throws `CannotError` for what the user can act on. */
export type Command<CommandOptions> = (options: CommandOptions, io: CommandIo) => Promise<number>;
