import {spawn} from 'node:child_process';
import {once} from 'node:events';
import {framesPerSecond, gloveLines} from './hour-log.ts';
import {residentMib} from './process-watch.ts';

/** A quarter of an hour that is played over and over, so that the making of the lines does not count. */
const quarter = Buffer.from(
	Array.from(gloveLines(900 * framesPerSecond, 12), line => `${line.split(',').slice(0, 10).join(',')}\r\n`).join(''),
);

/** Whether memory stays flat over a day and over a week of lines through a pipe into `check -`, with every check asked. */
export async function benchThroughPipe(): Promise<void> {
	console.log(`check - --json of a pipe, ${framesPerSecond} frames a second × 10 columns`);
	for (const hours of [24, 168]) {
		const started = process.hrtime.bigint();
		const check = spawn(process.execPath, ['dist/cli.js', 'check', '-', '--rate', String(framesPerSecond), '--json'], {
			stdio: ['pipe', 'ignore', 'inherit'],
		});
		const resident: number[] = [];
		for (let played = 0; played < 4 * hours; played++) {
			if (!check.stdin.write(quarter)) await once(check.stdin, 'drain');
			resident.push(residentMib(check.pid));
		}
		check.stdin.end();
		const [status] = await once(check, 'exit');
		const seconds = Number(process.hrtime.bigint() - started) / 1e9;
		const at = (share: number): string => (resident[Math.floor(share * (resident.length - 1))] ?? 0).toFixed(0);
		const perFrame = (1e6 * seconds) / (hours * 3600 * framesPerSecond);
		console.log(
			`  ${hours} h: ${seconds.toFixed(0)} s, ${perFrame.toFixed(2)} µs a frame; resident at a tenth, half, the end: ${[0.1, 0.5, 1].map(at).join(', ')} MiB; status ${status}`,
		);
	}
}
