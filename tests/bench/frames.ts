import {spawn, spawnSync} from 'node:child_process';
import {once} from 'node:events';
import {connect, createServer, type Socket} from 'node:net';
import {quantile} from 'simple-statistics';
import {wait} from './process-watch.ts';

const framesPerSecond = 100;
const seconds = 20;

/** Delays count from then on. */
const settleSeconds = 5;

/** What `frames` adds to the way of a live reading, in and out over the network; and whether a day of it leaves memory flat. */
export async function benchFrames(): Promise<void> {
	const boards = await Promise.all([openBoard(), openBoard()]);
	const [frames, relay] = await Promise.all([
		served(boards[0], [
			'dist/cli.js',
			'frames',
			`tcp://127.0.0.1:${boards[0].port}`,
			'--listen',
			'0',
			'--format',
			'comma',
		]),
		served(boards[1], ['-e', relayProgram, String(boards[1].port)]),
	]);
	const sent: number[] = [];
	const [delays, ofRelay] = await Promise.all([frames, relay].map(({port}) => listen(port, sent)));
	const started = performance.now();
	for (let n = 0; n < seconds * framesPerSecond; ) {
		while (n < seconds * framesPerSecond && performance.now() - started >= (1000 * n) / framesPerSecond) {
			const bend = Math.round(400 + 150 * Math.sin(n / 15));
			sent[n] = performance.now();
			for (const {glove} of boards) glove?.write(`${bend},${bend + 9},${bend + 4},${bend + 30},${bend + 12},${n}\r\n`);
			n++;
		}

		await wait(1);
	}

	await wait(200);
	for (const {child} of [frames, relay]) child.kill('SIGINT');
	for (const {server} of boards) server.close();
	const words = (all: readonly number[]): string =>
		`median ${quantile([...all], 0.5).toFixed(2)}, p99 ${quantile([...all], 0.99).toFixed(2)}, most ${Math.max(...all).toFixed(2)}`;
	console.log(`frames: a glove over the network in, a reader over the network out, ${framesPerSecond} frames a second`);
	console.log(`  ${delays.length} frames, ms: ${words(delays)}`);
	console.log(`  the same bytes through a bare relay at the same time: ${words(ofRelay)}`);
	console.log(
		`  added at the 99th percentile: ${(quantile(delays, 0.99) - quantile(ofRelay, 0.99)).toFixed(2)} ms (goal: under 5)`,
	);
	const result = spawnSync(process.execPath, ['--expose-gc', 'tests/tools/run.mjs', 'tests/bench/frames-day-run.ts'], {
		encoding: 'utf8',
		stdio: ['ignore', 'pipe', 'inherit'],
	});
	process.stdout.write(result.stdout);
}

/** Hands on what it gets, as `frames` does, and looks at none of it. */
const relayProgram = `
const net = require('net');
const from = net.connect(Number(process.argv[1]), '127.0.0.1').setNoDelay(true);
const server = net.createServer(to => { to.setNoDelay(true); from.on('data', data => to.write(data)); });
server.listen(0, '127.0.0.1', () => console.error('tcp://127.0.0.1:' + server.address().port + ' until'));
`;

type Board = {readonly server: ReturnType<typeof createServer>; readonly port: number; glove?: Socket};

async function openBoard(): Promise<Board> {
	const server = createServer(socket => {
		board.glove = socket.setNoDelay(true);
	}).listen(0, '127.0.0.1');
	await once(server, 'listening');
	const board: Board = {server, port: (server.address() as {port: number}).port};
	return board;
}

/** Starts a program that reads a board and serves what it reads; resolves when it does both. */
async function served(board: Board, args: readonly string[]) {
	const child = spawn(process.execPath, args, {stdio: ['ignore', 'inherit', 'pipe']});
	const port = await new Promise<number>(resolve => {
		let talk = '';
		child.stderr.on('data', data => {
			talk += data;
			const found = /tcp:\/\/127\.0\.0\.1:(\d+) until/.exec(talk);
			if (found) resolve(Number(found[1]));
		});
	});
	while (board.glove === undefined) await wait(5);
	return {child, port};
}

/** Reads what is served; resolves at once to the list that the delays go into. `sent`: when each frame was, by its number. */
async function listen(port: number, sent: readonly number[]): Promise<number[]> {
	const reader = connect(port, '127.0.0.1').setNoDelay(true);
	await once(reader, 'connect');
	const delays: number[] = [];
	let rest = '';
	reader.on('data', data => {
		const now = performance.now();
		const lines = (rest + data).split('\n');
		rest = lines.pop() ?? '';
		for (const line of lines) {
			const number = Number(line.split(',').at(-1));
			// The first frames wait until it is settled what their columns are.
			if (number > settleSeconds * framesPerSecond) delays.push(now - sent[number]);
		}
	});
	return delays;
}
