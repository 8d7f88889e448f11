import {spawn} from 'node:child_process';
import {createRequire} from 'node:module';
import path from 'node:path';

/**
 * Every mutant there is in the files of some patterns, in the order of files and lines, by Stryker's mutation server: JSON-RPC 2.0
 * over stdio, each message behind a header that tells its length in bytes.
 */
export async function discover(patterns) {
	const bin = path.join(
		path.dirname(createRequire(import.meta.url).resolve('@stryker-mutator/core/package.json')),
		'bin/stryker.js',
	);
	const server = spawn(process.execPath, [bin, 'serve', 'stdio', '--', '--mutate', patterns.join()], {
		stdio: ['pipe', 'pipe', 'inherit'],
	});
	try {
		const request = {
			jsonrpc: '2.0',
			id: 1,
			method: 'discover',
			params: {},
		};
		const body = Buffer.from(JSON.stringify(request));
		server.stdin.write(`Content-Length: ${body.length}\r\n\r\n`);
		server.stdin.write(body);
		const {result, error} = await answer(server.stdout);
		if (error) throw new Error(`The mutants could not be listed: ${error.message}`);
		return Object.entries(result.files)
			.flatMap(([fileName, {mutants}]) => mutants.map(mutant => ({fileName, ...mutant})))
			.sort(
				(one, other) => one.fileName.localeCompare(other.fileName) || before(one.location.start, other.location.start),
			);
	} finally {
		server.kill();
	}
}

function before(one, other) {
	return one.line - other.line || one.column - other.column;
}

async function answer(stream) {
	let bytes = Buffer.alloc(0);
	for await (const chunk of stream) {
		bytes = Buffer.concat([bytes, chunk]);
		const [header, length] = /^Content-Length: (\d+)\r\n\r\n/i.exec(bytes.toString('latin1')) ?? [];
		if (header !== undefined && bytes.length >= header.length + Number(length))
			return JSON.parse(bytes.subarray(header.length, header.length + Number(length)).toString('utf8'));
	}
	throw new Error('The mutants could not be listed: the server ended without an answer.');
}
