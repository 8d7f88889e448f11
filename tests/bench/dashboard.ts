import {readFileSync} from 'node:fs';
import path from 'node:path';
import {spawn} from '@lydell/node-pty';
import {Random} from '../../source/simulator/random.ts';

/** Clock ticks a second of /proc/PID/stat on Linux. */
const ticksPerSecond = 100;

type Watched = {readonly firstPaintMs: number; readonly bytesPerSecond: number; readonly cpuShare: number | null};

/** CPU time used so far by a process, seconds; null where /proc does not tell. */
function cpuSeconds(pid: number): number | null {
	try {
		const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1].split(' ');
		return (Number(fields[11]) + Number(fields[12])) / ticksPerSecond;
	} catch {
		return null;
	}
}

const wait = (ms: number): Promise<void> => new Promise(resolve => setTimeout(resolve, ms));

/** Runs the program in an 80×24 pseudo-terminal for a while and counts what it writes and burns once it has settled. */
async function watch(args: readonly string[], seconds: number): Promise<Watched> {
	const started = performance.now();
	const child = spawn(process.execPath, ['dist/cli.js', ...args], {
		name: 'xterm-256color',
		cols: 80,
		rows: 24,
		env: {...process.env, TERM: 'xterm-256color', COLORTERM: ''} as Record<string, string>,
	});
	let firstPaint = Number.NaN;
	let bytes = 0;
	child.onData(data => {
		// The first text that is no control sequence is the first paint.
		const text = data.replaceAll(/\u001b\[[0-9;?]*[A-Za-z]/g, '').trim();
		if (Number.isNaN(firstPaint) && text !== '') firstPaint = performance.now() - started;
		bytes += Buffer.byteLength(data);
	});
	// Three seconds to settle: layout, first frames, just-in-time compilation.
	await wait(3000);
	const bytesBefore = bytes;
	const cpuBefore = cpuSeconds(child.pid);
	const from = performance.now();
	await wait(seconds * 1000);
	const passed = (performance.now() - from) / 1000;
	const cpuAfter = cpuSeconds(child.pid);
	const bytesPerSecond = (bytes - bytesBefore) / passed;
	child.kill();
	return {
		firstPaintMs: firstPaint,
		bytesPerSecond,
		cpuShare: cpuBefore === null || cpuAfter === null ? null : (cpuAfter - cpuBefore) / passed,
	};
}

function tell(what: string, {firstPaintMs, bytesPerSecond, cpuShare}: Watched, goal: string): void {
	const cpu = cpuShare === null ? 'unknown' : `${(100 * cpuShare).toFixed(1)} % of a core`;
	console.log(
		`  ${what.padEnd(24)} first paint ${firstPaintMs.toFixed(0)} ms, ${(bytesPerSecond / 1000).toFixed(2)} kB/s, ${cpu} (${goal})`,
	);
}

/** The dashboard at 80×24: start to first paint, bytes to the terminal and CPU, on a busy hand and on an idle one. */
export async function benchDashboard(folder: string): Promise<void> {
	console.log('dashboard at 80×24, 100 frames a second');
	tell('demo', await watch(['demo'], 10), 'goals: 400 ms, 5 kB/s, 5 %');
	const {writeFileSync} = await import('node:fs');
	const random = new Random(42);
	for (const [name, moving] of [
		['busy hand', true],
		['idle hand', false],
	] as const) {
		const file = path.join(folder, `${moving ? 'busy' : 'idle'}.txt`);
		const lines: string[] = [];
		for (let n = 0; n < 6000; n++) {
			const t = n / 100;
			const phase = (t % 2) / 2;
			const closed = moving ? (1 - Math.cos(2 * Math.PI * phase)) / 2 : 0;
			const values = [0, 1, 2, 3, 4].map(finger =>
				Math.round(160 + 20 * finger + (600 + 9 * finger) * closed + 1.5 * random.uniform(0, 1)),
			);
			lines.push(`${t.toFixed(3)} ${values.join(',')},${Math.round(511 + random.uniform(0, 1.5))},512,1,1`);
		}
		writeFileSync(file, `${lines.join('\n')}\n`);
		tell(name, await watch(['replay', file], 12), moving ? 'goals: 5 kB/s, 5 %' : 'goal: 0.5 kB/s');
	}
}
