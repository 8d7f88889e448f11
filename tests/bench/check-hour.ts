import {spawnSync} from 'node:child_process';
import {statSync} from 'node:fs';
import path from 'node:path';
import {writeHourLog} from './hour-log.ts';

/** The one-line awk program it is measured against: lowest, highest and mean of every column. */
const awkProgram =
	'{for(i=1;i<=NF;i++){x=$i+0;if(NR==1||x<lo[i])lo[i]=x;if(NR==1||x>hi[i])hi[i]=x;sum[i]+=x}}END{for(i=1;i<=NF;i++)print lo[i],hi[i],sum[i]/NR}';

type Timed = {readonly seconds: number; readonly peakMb: number | null; readonly stdout: string};

/** Runs a program to its end; the best of three, so that a busy machine does not decide. */
function best(command: string, args: readonly string[]): Timed | undefined {
	let fastest: Timed | undefined;
	for (let round = 0; round < 3; round++) {
		const started = process.hrtime.bigint();
		const result = spawnSync('/usr/bin/env', ['bash', '-c', 'exec "$@"', 'run', command, ...args], {
			encoding: 'utf8',
			maxBuffer: 1 << 26,
			env: {...process.env, GLOVEBENCH_BENCH_MEMORY: '1'},
		});
		const seconds = Number(process.hrtime.bigint() - started) / 1e9;
		if (result.error || result.status === null || result.status > 1) return undefined;
		const peak = /peak ([\d.]+) MB/.exec(result.stderr);
		if (fastest === undefined || seconds < fastest.seconds)
			fastest = {seconds, peakMb: peak === null ? null : Number(peak[1]), stdout: result.stdout};
	}
	return fastest;
}

/** `check` of an hour at 100 frames a second × 12 channels against mawk's minimum, maximum and mean of each column. */
export function benchCheckHour(folder: string): void {
	const file = path.join(folder, 'hour.csv');
	writeHourLog(file);
	const memory = path.join('tests', 'bench', 'peak-memory.cjs');
	const check = best(process.execPath, ['--require', `./${memory}`, 'dist/cli.js', 'check', file, '--json']);
	const node = best(process.execPath, [
		'-e',
		`let n=0;require('readline').createInterface({input:require('fs').createReadStream(${JSON.stringify(file)})}).on('line',l=>{for(const x of l.split(','))n+=+x}).on('close',()=>console.log(n))`,
	]);
	const mawk = best('mawk', ['-F,', awkProgram, file]);
	const megabytes = statSync(file).size / 1e6;
	console.log(`one hour: 360,000 lines × 12 columns, ${megabytes.toFixed(1)} MB`);
	console.log(
		`  check --json            ${check === undefined ? 'failed' : `${check.seconds.toFixed(2)} s, peak memory ${check.peakMb ?? '?'} MB`}`,
	);
	console.log(`  readline + split (Node) ${node === undefined ? 'failed' : `${node.seconds.toFixed(2)} s`}`);
	console.log(
		`  mawk min, max, mean     ${mawk === undefined ? 'mawk is not installed: skipped' : `${mawk.seconds.toFixed(2)} s`}`,
	);
	if (check !== undefined && mawk !== undefined) {
		console.log(`  check / mawk            ${(check.seconds / mawk.seconds).toFixed(2)} (goal: at most 1)`);
		const findings = (JSON.parse(check.stdout) as {findings: {code: string; channel: string | null}[]}).findings;
		console.log(
			`  findings on this healthy hour: ${findings.length === 0 ? 'none' : findings.map(({code, channel}) => `${code} ${channel ?? ''}`).join(', ')}`,
		);
	}
	// Both must have read the same numbers.
	if (check !== undefined && mawk !== undefined) {
		const channels = (JSON.parse(check.stdout) as {channels: {min: number; max: number}[]}).channels;
		const rows = mawk.stdout
			.trim()
			.split('\n')
			.map(line => line.split(' ').map(Number));
		const differing = channels
			.slice(0, 7)
			.filter((channel, i) => channel.min !== rows[i][0] || channel.max !== rows[i][1]).length;
		console.log(`  columns on which the two disagree about minimum or maximum: ${differing}`);
	}
}
