import {spawnSync} from 'node:child_process';

/** Runs of each program: an odd number, so that the median is one of them. */
export const rounds = 5;

export type Timed = {
	/** Median wall-clock time and processor time (user and system, all threads). */
	readonly seconds: number;
	readonly cpuSeconds: number;
	/** Largest peak of resident memory, MiB; NaN where the program does not tell (see `peak-memory.cjs`). */
	readonly peakMib: number;
	readonly stdout: string;
};

/** A program to be timed: command and arguments. */
export type Program = readonly [command: string, ...args: string[]];

/**
 * Runs programs in turn, `rounds` times over, so that what else the machine does falls on all of them alike. Undefined
 * for a program that is not installed. Needs bash, whose `time` tells the processor time.
 *
 * @throws Error where a program ends with a status above 1
 */
export function timeInTurn(
	programs: Readonly<Record<string, Program>>,
	count = rounds,
): Record<string, Timed | undefined> {
	const runs: Record<string, {seconds: number; cpu: number; peak: number; stdout: string}[]> = {};
	for (let round = 0; round < count; round++) {
		for (const [name, [command, ...args]] of Object.entries(programs)) {
			runs[name] ??= [];
			const started = process.hrtime.bigint();
			const result = spawnSync('bash', ['-c', 'TIMEFORMAT="cpu %U %S"; time "$@"', 'run', command, ...args], {
				encoding: 'utf8',
				maxBuffer: 1 << 28,
			});
			const seconds = Number(process.hrtime.bigint() - started) / 1e9;
			const cpu = /cpu ([\d.]+) ([\d.]+)/.exec(result.stderr);
			if (result.error || result.status === 127) continue;
			if (result.status === null || result.status > 1 || cpu === null) throw new Error(`${name}: ${result.stderr}`);
			const peak = /peak (\d+) KiB/.exec(result.stderr);
			runs[name].push({
				seconds,
				cpu: Number(cpu[1]) + Number(cpu[2]),
				peak: peak === null ? Number.NaN : Number(peak[1]) / 1024,
				stdout: result.stdout,
			});
		}
	}
	return Object.fromEntries(
		Object.entries(runs).map(([name, list]) => [
			name,
			list.length === 0
				? undefined
				: {
						seconds: median(list.map(run => run.seconds)),
						cpuSeconds: median(list.map(run => run.cpu)),
						peakMib: Math.max(...list.map(run => run.peak)),
						stdout: list[0].stdout,
					},
		]),
	);
}

export function median(values: readonly number[]): number {
	const sorted = [...values].sort((one, other) => one - other);
	return (sorted[(sorted.length - 1) >> 1] + sorted[sorted.length >> 1]) / 2;
}
