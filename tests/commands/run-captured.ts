import {PassThrough, type Readable, Writable} from 'node:stream';
import type {CommandIo} from '../../source/command-line/command-io.ts';

/** What a command is run with besides its options. Nothing: an empty standard input, streams that are no terminal. */
export type Surroundings = {
	readonly stdin?: string | Readable;
	readonly signal?: AbortSignal;
	/** Whether each stream is a terminal. */
	readonly isTTY?: boolean;
	readonly columns?: number | undefined;
};

/** The exit status, what went to standard output, and what to standard error. */
export type Captured = {readonly status: number; readonly text: string; readonly talk: string};

/** Runs a command on streams in memory. Rejects with what the command throws. */
export async function runCaptured<Options>(
	command: (options: Options, io: CommandIo) => Promise<number>,
	options: Options,
	{stdin = '', signal = new AbortController().signal, isTTY = false, columns}: Surroundings = {},
): Promise<Captured> {
	const written = {text: '', talk: ''};
	const terminal = {isTTY, ...(columns !== undefined && {columns})};
	const sink = (name: 'text' | 'talk') =>
		Object.assign(
			new Writable({
				decodeStrings: false,
				write(chunk: Buffer | string, _encoding, done) {
					written[name] += typeof chunk === 'string' ? chunk : chunk.toString('utf8');
					done();
				},
			}),
			terminal,
		);
	const input = typeof stdin === 'string' ? new PassThrough().end(stdin) : stdin;
	const io = {stdin: Object.assign(input, {isTTY}), stdout: sink('text'), stderr: sink('talk'), signal};
	const status = await command(options, io);
	return {status, ...written};
}
