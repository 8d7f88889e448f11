import {type SpawnOptions, spawn} from 'node:child_process';
import {fileURLToPath} from 'node:url';

/** The built command line; `npm test` builds it first. */
export const cliPath = fileURLToPath(new URL('../../dist/cli.js', import.meta.url));

export type CliResult = {readonly status: number | null; readonly stdout: string; readonly stderr: string};

const bare = Object.fromEntries(
	Object.entries(process.env).filter(([name]) => !/^(NO_COLOR|FORCE_COLOR|CI|GLOVEBENCH_.*)$/.test(name)),
);

/** Starts the built program with an environment free of colour settings. */
export function startCli(argv: readonly string[], options: SpawnOptions = {}) {
	return spawn(process.execPath, [cliPath, ...argv], {...options, env: {...bare, ...options.env}});
}

/** Runs the built program to its end. Standard input is empty unless `input` is given. */
export function runCli(
	argv: readonly string[],
	{input = '', ...options}: SpawnOptions & {readonly input?: string | Uint8Array} = {},
): Promise<CliResult> {
	const child = startCli(argv, options);
	let stdout = '';
	let stderr = '';
	child.stdout?.setEncoding('utf8').on('data', text => {
		stdout += text;
	});
	child.stderr?.setEncoding('utf8').on('data', text => {
		stderr += text;
	});
	// A program that does not read its input may be gone before it is written.
	child.stdin?.on('error', () => {});
	child.stdin?.end(input);
	return new Promise((resolve, reject) => {
		child.on('error', reject);
		child.on('close', status => resolve({status, stdout, stderr}));
	});
}
