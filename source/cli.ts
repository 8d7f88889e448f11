#!/usr/bin/env node
import process from 'node:process';
import {CannotError} from './cannot-error.ts';
import type {CommandIo} from './command-line/command-io.ts';
import {commandLoaders} from './command-line/command-loaders.ts';
import {commandHelp, generalHelp} from './command-line/help-text.ts';
import {parseCommandLine} from './command-line/parse-command-line.ts';
import {wantsColor} from './command-line/terminal-style.ts';
import {tool} from './version.ts';

const {stdin, stdout, stderr} = process;

/** Exit statuses after a signal: 128 and its number, as shells report it (POSIX). */
const signalStatuses = {SIGINT: 130, SIGTERM: 143, SIGHUP: 129} as const;

const cancel = new AbortController();
let signalStatus: number | undefined;
let askedAtMs = 0;

/** One Ctrl-C reaches a program twice where a wrapper such as npm passes it on as well. */
const sameAskingMs = 500;

for (const [name, status] of Object.entries(signalStatuses)) {
	process.on(name, () => {
		const nowMs = performance.now();
		// Asked again, the user no longer wants to wait for a tidy end.
		if (signalStatus !== undefined && nowMs - askedAtMs > sameAskingMs) process.exit(signalStatus);
		askedAtMs = nowMs;
		signalStatus ??= status;
		cancel.abort();
	});
}

let writeError: Error | undefined;

stdout.on('error', (error: NodeJS.ErrnoException) => {
	// That the reader has seen enough (`| head`) is no news to anyone.
	if (error.code !== 'EPIPE') writeError ??= error;
	cancel.abort();
});
// Nobody is left to tell, which is no reason to stop what is going on: a recording, say.
stderr.on('error', () => {});

/** Says on stderr, in one line, why it did not work, and gives the exit status for it. */
async function statusFor(error: unknown): Promise<number> {
	const {escapeText} = await import('./text/escape-text.ts');
	// Names of files and words of other programs may be in it.
	const oneLine = (text: string) => escapeText(text.replace(/\s*\n\s*/g, ' '));
	if (error instanceof CannotError) {
		stderr.write(`glovebench: ${oneLine(error.message)}\n`);
		return 2;
	}

	const {crashNote} = await import('./crash-note.ts');
	stderr.write(crashNote(error, process.env.GLOVEBENCH_DEBUG !== undefined));
	return 2;
}

let isFinishing = false;
let crash: {readonly error: unknown} | undefined;

/** How long a command may take to end in order after a defect, before it is left as it is. */
const afterCrashMs = 3000;

/** A defect outside any command's flow: recordings are closed and the terminal is given back before it is told. */
function crashed(error: unknown): void {
	if (isFinishing || crash) return;
	crash = {error};
	cancel.abort();
	setTimeout(() => void finish(error), afterCrashMs);
}

/** Ends the process once everything written has left it. A port or a socket left open does not hold it up. */
async function finish(outcome: unknown): Promise<void> {
	// What else fails while ending changes nothing.
	if (isFinishing) return;
	isFinishing = true;
	await written(stdout);
	let status = 0;
	if (crash) status = await statusFor(crash.error);
	else if (writeError)
		status = await statusFor(new CannotError(`Cannot write to standard output: ${writeError.message}.`));
	else if (typeof outcome === 'number') status = outcome;
	else if (!cancel.signal.aborted || !isAbort(outcome)) status = await statusFor(outcome);
	await written(stderr);
	process.exit(crash ? status : (signalStatus ?? status));
}

/** Resolves when everything given to the stream has been written, or cannot be. */
function written(stream: NodeJS.WriteStream): Promise<unknown> {
	return new Promise(resolve => stream.write('', resolve));
}

const isAbort = (error: unknown) => error instanceof Error && error.name === 'AbortError';

process.on('uncaughtException', crashed);
process.on('unhandledRejection', crashed);

async function main(): Promise<number> {
	const asked = parseCommandLine(process.argv.slice(2));
	if (asked.wants === 'version') {
		stdout.write(`${tool.version}\n`);
		return 0;
	}

	if (asked.wants === 'help') {
		const text = asked.command ? commandHelp(asked.command) : generalHelp(tool.description);
		(asked.asked ? stdout : stderr).write(text);
		return asked.asked ? 0 : 2;
	}

	const color = wantsColor(asked.options.color === true, process.env, stdout.isTTY);
	if (!color) {
		// Libraries that draw know this variable only, and warn when both are set.
		process.env.FORCE_COLOR = '0';
		delete process.env.NO_COLOR;
	}

	const io: CommandIo = {stdin, stdout, stderr, signal: cancel.signal};
	const words = asked.command.arguments.map(({name, multiple}, index) => [
		name.toLowerCase(),
		multiple ? asked.arguments.slice(index) : asked.arguments[index],
	]);
	const command = await commandLoaders[asked.command.name]();
	return command({...asked.options, ...Object.fromEntries(words), color}, io);
}

void main().then(finish, finish);
