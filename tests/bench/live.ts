import {spawn} from 'node:child_process';
import {readdirSync, readlinkSync} from 'node:fs';
import {openPseudoPort} from '../sources/pseudo-port.ts';
import {gloveLines} from './hour-log.ts';
import {cpuSeconds, wait} from './process-watch.ts';

const framesPerSecond = 1000;
const seconds = 20;

/** Lines sent at once: what a USB bridge hands on every 10 ms. */
const linesPerBurst = 10;

/** Processor time is taken from then on, once everything is compiled. */
const settleSeconds = 5;

/** A glove of 12 columns at 1,000 frames a second through a pseudo-terminal: what arrives, and what it costs. */
export async function benchLive(): Promise<void> {
	const port = openPseudoPort(seconds + 30);
	const child = spawn(
		process.execPath,
		['dist/cli.js', 'check', port.path, '--json', '--baud', '921600', '--for', `${seconds + 2}s`],
		{stdio: ['ignore', 'pipe', 'inherit']},
	);
	let report = '';
	child.stdout.on('data', data => {
		report += data;
	});
	const ended = new Promise(resolve => child.on('close', resolve));
	const {pid} = child;
	if (pid === undefined) throw new Error('The program could not be started.');
	while (!hasOpen(pid, port.path)) await wait(20);
	await wait(300);
	const lines = gloveLines(seconds * framesPerSecond);
	const started = performance.now();
	let cpuBefore: number | null = null;
	let sent = 0;
	while (sent < seconds * framesPerSecond) {
		const due = Math.floor((performance.now() - started) / (1000 / framesPerSecond) / linesPerBurst) * linesPerBurst;
		for (; sent < Math.min(due, seconds * framesPerSecond); sent += linesPerBurst) {
			let burst = '';
			for (let i = 0; i < linesPerBurst; i++) burst += `${lines.next().value}\r\n`;
			port.send(burst);
		}
		if (cpuBefore === null && sent >= settleSeconds * framesPerSecond) cpuBefore = cpuSeconds(pid);
		await wait(5);
	}
	const cpuAfter = cpuSeconds(pid);
	await ended;
	await port.unplug();
	const {link} = JSON.parse(report) as {link: {frames: number; badLines: number}};
	const share =
		cpuBefore === null || cpuAfter === null
			? 'unknown'
			: `${((100 * (cpuAfter - cpuBefore)) / (seconds - settleSeconds)).toFixed(1)} % of a core`;
	console.log(`live: check on a pseudo-terminal, 12 columns at ${framesPerSecond} frames a second for ${seconds} s`);
	console.log(`  frames sent ${sent}, arrived ${link.frames}, damaged ${link.badLines} (goal: all, none)`);
	console.log(`  whole process ${share}; of these the engine's own share: see "engine" (goal: 10 %)`);
}

/** Whether a process has a file open, as Linux lists it. */
function hasOpen(pid: number, file: string): boolean {
	try {
		return readdirSync(`/proc/${pid}/fd`).some(fd => {
			try {
				return readlinkSync(`/proc/${pid}/fd/${fd}`) === file;
			} catch {
				return false;
			}
		});
	} catch {
		return false;
	}
}
