import {PassThrough, Writable} from 'node:stream';
import {CannotError} from '../../source/cannot-error.ts';
import type {CommandIo} from '../../source/command-line/command-io.ts';
import {commandLoaders} from '../../source/command-line/command-loaders.ts';
import {parseCommandLine} from '../../source/command-line/parse-command-line.ts';

export type CommandOutput = {readonly stdout: string; readonly stderr: string; readonly error: string};

/** A command in this process, on a terminal or not, and all it wrote. */
export async function runCommand(argv: readonly string[], {color = false, stdin = ''} = {}): Promise<CommandOutput> {
	const asked = parseCommandLine(argv);
	if (asked.wants !== 'command') throw new Error('no command');
	const out = {stdout: '', stderr: ''};
	const sink = (name: 'stdout' | 'stderr') =>
		new Writable({
			// As they are: encoding would put U+FFFD in the place of half a character.
			decodeStrings: false,
			write(chunk: Buffer | string, _encoding, done) {
				out[name] += typeof chunk === 'string' ? chunk : chunk.toString('utf8');
				done();
			},
		});
	const input = new PassThrough();
	input.end(stdin);
	const io = {
		stdin: input,
		stdout: sink('stdout'),
		stderr: sink('stderr'),
		signal: new AbortController().signal,
	} as unknown as CommandIo;
	const words = asked.command.arguments.map(({name}, index) => [name.toLowerCase(), asked.arguments[index]]);
	const command = await commandLoaders[asked.command.name]!();
	let error = '';
	try {
		await command({...asked.options, ...Object.fromEntries(words), color} as never, io);
	} catch (thrown) {
		if (!(thrown instanceof CannotError)) throw thrown;
		error = thrown.message;
	}

	return {...out, error};
}
