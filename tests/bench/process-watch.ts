import {readFileSync} from 'node:fs';

/** Clock ticks a second of /proc/PID/stat on Linux. */
const ticksPerSecond = 100;

/** Processor time used so far by a process, seconds; null where /proc does not tell. */
export function cpuSeconds(pid: number): number | null {
	try {
		const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1].split(' ');
		return (Number(fields[11]) + Number(fields[12])) / ticksPerSecond;
	} catch {
		return null;
	}
}

/** Resident memory of a process now, MiB; NaN where /proc does not tell. */
export function residentMib(pid: number | undefined): number {
	try {
		return Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]) / 1024;
	} catch {
		return Number.NaN;
	}
}

export const wait = (ms: number): Promise<void> => new Promise(resolve => setTimeout(resolve, ms));
