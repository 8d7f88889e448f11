import {type AddressInfo, createServer, type Socket} from 'node:net';
import {Random} from '../../source/simulator/random.ts';
import {twelveChannels} from './dashboard.ts';
import {wait} from './process-watch.ts';
import {ProgramInPty} from './program-in-pty.ts';

/** Button presses and releases that are timed. */
const changes = 120;

const frameMs = 10;

/** Share of a sorted list's entries that lie at or below the answer. */
export function quantile(values: readonly number[], share: number): number {
	const sorted = [...values].sort((a, b) => a - b);
	return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)];
}

/**
 * From the bytes of a frame with a pressed button leaving this process to the changed sign among the bytes the
 * dashboard writes to its terminal, 100 frames/s × 12 channels, a moving hand, 80 × 24.
 */
export async function benchScreenDelay(): Promise<void> {
	let pressed = 0;
	let sentMs = Number.NaN;
	let waiting = false;
	let number = 0;
	const random = new Random(7);
	const server = createServer((socket: Socket) => {
		socket.setNoDelay(true);
		const timer = setInterval(() => {
			const t = number / 100;
			const bend = (1 - Math.cos(Math.PI * t)) / 2;
			const fingers = [0, 1, 2, 3, 4].map(finger =>
				Math.round(150 + (600 + 20 * finger) * bend + random.uniform(0, 2)),
			);
			const frame = [...fingers, 511, 513, 1 - pressed, 1, 1, number % 65_536, number * 10];
			if (waiting && Number.isNaN(sentMs)) sentMs = performance.now();
			socket.write(`${frame.join(',')}\r\n`);
			number++;
		}, frameMs);
		socket.on('close', () => clearInterval(timer)).on('error', () => {});
	});
	await new Promise<void>(resolve => server.listen(0, '127.0.0.1', resolve));
	const address = `tcp://127.0.0.1:${(server.address() as AddressInfo).port}`;
	const program = new ProgramInPty(['dist/cli.js', 'attach', address, '--layout', twelveChannels], {
		columns: 80,
		rows: 24,
	});
	const delays: number[] = [];
	program.onData(data => {
		if (!waiting || !data.includes(pressed ? '■' : '□')) return;
		delays.push(performance.now() - sentMs);
		waiting = false;
	});
	await wait(5000);
	for (let change = 0; change < changes; change++) {
		pressed = 1 - pressed;
		sentMs = Number.NaN;
		waiting = true;
		await program.until(() => !waiting, 5000);
		// At no fixed phase to the redraws.
		await wait(150 + random.uniform(0, 1) * 170);
	}

	program.end();
	server.close();
	console.log(
		`byte to screen, ${changes} button changes: median ${quantile(delays, 0.5).toFixed(0)} ms, 95 % within ${quantile(delays, 0.95).toFixed(0)} ms (goal: 150 ms), most ${Math.max(...delays).toFixed(0)} ms`,
	);
}
