import process from 'node:process';
import {CannotError} from './cannot-error.ts';
import type {CommandIo} from './command-line/command-io.ts';
import type {CommandLoaders} from './command-line/command-loaders.ts';
import {commandHelp, generalHelp} from './command-line/help-text.ts';
import {closeLostTerminals, openTerminals, tellsOfLostTerminal} from './command-line/lost-terminals.ts';
import {parseCommandLine} from './command-line/parse-command-line.ts';
import {reportWidth} from './command-line/report-width.ts';
import type {Signals} from './command-line/signals.ts';
import {sizeFrom, wantsAscii, wantsColor} from './command-line/terminal-style.ts';
import {isUnderNohup} from './command-line/under-nohup.ts';
import {tool} from './version.ts';

const {stdin, stdout, stderr} = process;

/** How long a command may take to end in order after a defect, before it is left as it is. */
const afterCrashMs = 3000;

/** Runs what the command line asks for, one of the commands that `loaders` know, and ends the process with the status of it. */
export function runProgram(
	{cancel, status: signalStatus, outliveTerminal, hangUp}: Signals,
	loaders: Partial<CommandLoaders>,
): void {
	if (isUnderNohup()) outliveTerminal();
	const terminals = openTerminals();
	const isHangUp = (error: unknown) => tellsOfLostTerminal(error, terminals);
	let writeError: Error | undefined;
	let isFinishing = false;
	let crash: {readonly error: unknown} | undefined;

	stdout.on('error', (error: NodeJS.ErrnoException) => {
		if (isHangUp(error)) return hangUp();
		// That the reader has seen enough (`| head`) is no news to anyone.
		if (error.code !== 'EPIPE') writeError ??= error;
		cancel.abort();
	});
	// Nobody is left to tell, which is no reason to stop what is going on: a recording, say.
	stderr.on('error', () => {});

	/** A defect outside any command's flow: recordings are closed and the terminal is given back before it is told. */
	const crashed = (error: unknown) => {
		if (isFinishing || crash) return;
		if (isHangUp(error)) return hangUp();
		crash = {error};
		cancel.abort();
		setTimeout(() => void finish(error), afterCrashMs);
	};

	/** Ends the process once everything written has left it. A port or a socket left open does not hold it up. */
	const finish = async (outcome: unknown) => {
		// What else fails while ending changes nothing.
		if (isFinishing) return;
		isFinishing = true;
		await written(stdout);
		let status = 0;
		if (crash) status = await statusFor(crash.error);
		else if (writeError)
			status = await statusFor(new CannotError(`Cannot write to standard output: ${writeError.message}.`));
		else if (typeof outcome === 'number') status = outcome;
		else if (isHangUp(outcome)) hangUp();
		else if (!cancel.signal.aborted || !isAbort(outcome)) status = await statusFor(outcome);
		await written(stderr);
		process.exit(crash ? status : (signalStatus() ?? status));
	};

	process.on('uncaughtException', crashed);
	process.on('unhandledRejection', crashed);
	process.on('exit', closeLostTerminals);
	void run(cancel.signal, loaders).then(finish, finish);
}

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

/** Resolves when everything given to the stream has been written, or cannot be. */
function written(stream: NodeJS.WriteStream): Promise<unknown> {
	return new Promise(resolve => stream.write('', resolve));
}

const isAbort = (error: unknown) => error instanceof Error && error.name === 'AbortError';

/** Does what was asked for; resolves to the exit status. */
async function run(signal: AbortSignal, loaders: Partial<CommandLoaders>): Promise<number> {
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
	} else if (!process.env.FORCE_COLOR && !stdout.isTTY) {
		process.env.FORCE_COLOR = '1';
	}

	const ascii = wantsAscii(asked.options.ascii === true, process.env, stdout.isTTY === true);
	for (const [side, text] of [
		['columns', process.env.COLUMNS],
		['rows', process.env.LINES],
	] as const) {
		const size = sizeFrom(text);
		// A terminal that changes its size writes the new one here: what was asked for stays.
		if (size !== undefined) Object.defineProperty(stdout, side, {get: () => size, set: () => {}});
	}

	const io: CommandIo = {stdin, stdout, stderr, signal};
	const words = asked.command.arguments.map(({name, multiple}, index) => [
		name.toLowerCase(),
		multiple ? asked.arguments.slice(index) : asked.arguments[index],
	]);
	const load = loaders[asked.command.name];
	if (load === undefined) throw new Error(`${asked.command.name} is not in this part of the program`);
	const command = await load();
	const columns = reportWidth(process.env, stdout.columns);
	// A command that has an option of this name gets the option.
	return command({columns, ...asked.options, ...Object.fromEntries(words), color, ascii}, io);
}
