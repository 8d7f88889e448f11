import {once} from 'node:events';
import {type AddressInfo, createServer} from 'node:net';
import {expect, test} from 'vitest';
import {type LinkOptions, linkCommand} from '../../source/commands/link.ts';
import {runCaptured} from './run-captured.ts';

const run = (options: LinkOptions) => runCaptured(linkCommand, options);

test('tells each window of a live walk as it ends, and the table when it is over', async () => {
	let n = 0;
	const server = createServer(socket => {
		const timer = setInterval(() => {
			const bend = Math.round(400 + 200 * Math.sin(n / 40));
			socket.write(`n:${n} ms:${5 * n} thumb:${bend} index:${bend + 9} middle:${bend + 5}\n`);
			// Of each ten frames the last is lost.
			n += n % 10 === 8 ? 2 : 1;
		}, 5);
		socket.on('close', () => clearInterval(timer)).on('error', () => {});
	}).listen(0, '127.0.0.1');
	await once(server, 'listening');
	const {port} = server.address() as AddressInfo;
	const {text, talk} = await run({source: `tcp://127.0.0.1:${port}`, window: 1, for: 1.4});
	server.close();
	expect(talk).toContain('walk, and press a button');
	expect(talk).toMatch(
		/^0-1 s: \d+ of \d+ frames lost \((?:9|10|11)\.\d %\), 95 % within \S+ ms of the quickest.*: bad$/m,
	);
	expect(text).toMatch(/BAD: \d+ of \d+ frames lost/);
});
