import {statSync} from 'node:fs';
import path from 'node:path';
import {type Columns, framesPerSecond, writeHourLog} from './hour-log.ts';
import {type Program, type Timed, timeInTurn} from './timed.ts';

/** Lowest, highest and mean of every column. */
export const awkProgram =
	'{for(i=1;i<=NF;i++){x=$i+0;if(NR==1||x<lo[i])lo[i]=x;if(NR==1||x>hi[i])hi[i]=x;sum[i]+=x}}END{for(i=1;i<=NF;i++)print lo[i],hi[i],sum[i]/NR}';

/** The least that a script in the same language does: lines, values, a sum. */
const plainScript = (file: string): string =>
	`let n=0;require('readline').createInterface({input:require('fs').createReadStream(${JSON.stringify(file)})}).on('line',l=>{for(const x of l.split(','))n+=+x}).on('close',()=>console.log(n))`;

/** `check --json` of a file, telling its peak of memory. */
export const checkProgram = (file: string): Program => [
	process.execPath,
	'--require',
	'./tests/bench/peak-memory.cjs',
	'dist/cli.js',
	'check',
	file,
	'--json',
];

/** `check` of an hour at 100 frames a second × 12 channels against other readers of the same file. */
export function benchCheckHour(folder: string): void {
	const file = path.join(folder, 'hour.csv');
	writeHourLog(file);
	const {
		check: own,
		mawk,
		plain,
	} = timeInTurn({
		check: checkProgram(file),
		mawk: ['mawk', '-F,', awkProgram, file],
		plain: [process.execPath, '-e', plainScript(file)],
	});
	console.log(`one hour: 360,000 lines × 12 columns, ${(statSync(file).size / 1e6).toFixed(1)} MB`);
	console.log(`  check --json, every detector ${seconds(own)}, peak memory ${own?.peakMib.toFixed(0)} MiB (goal: 120)`);
	console.log(`  mawk min, max, mean          ${seconds(mawk)}`);
	console.log(`  readline + split (Node)      ${seconds(plain)}`);
	if (own && mawk) console.log(`  check / mawk                 ${(own.seconds / mawk.seconds).toFixed(2)} (goal: 0.6)`);
	if (own && plain)
		console.log(`  check / plain script         ${(own.seconds / plain.seconds).toFixed(2)} (goal: 1.2)`);
	if (own) tellFindings(own);
	if (own && mawk) console.log(`  columns on which the two disagree about lowest or highest: ${differing(own, mawk)}`);
}

/** How the cost grows with the number of channels and with the length. */
export function benchCheckGrowth(folder: string): void {
	const lengths: [hours: number, columns: Columns][] = [
		[1, 5],
		[1, 12],
		[1, 24],
		[0.25, 12],
		[0.5, 12],
	];
	const programs: Record<string, Program> = {};
	for (const [hours, columns] of lengths) {
		const file = path.join(folder, `${hours}-${columns}.csv`);
		writeHourLog(file, {hours, columns});
		programs[`${hours} h × ${columns} columns`] = checkProgram(file);
	}
	const timed = timeInTurn(programs);
	console.log('check --json, cost by length and columns');
	for (const [i, [name, result]] of Object.entries(timed).entries()) {
		const [hours, columns] = lengths[i];
		const frames = hours * 3600 * framesPerSecond;
		const perFrame = result === undefined ? '' : `, ${((1e6 * result.seconds) / frames).toFixed(2)} µs a frame`;
		const perValue =
			result === undefined ? '' : `, ${((1e9 * result.seconds) / frames / columns).toFixed(0)} ns a value`;
		console.log(`  ${name.padEnd(18)} ${seconds(result)}${perFrame}${perValue}, ${result?.peakMib.toFixed(0)} MiB`);
	}
}

/** Whether memory stays flat from one hour to ten. */
export function benchCheckTenHours(folder: string): void {
	const [one, ten] = [path.join(folder, 'one.csv'), path.join(folder, 'ten.csv')];
	writeHourLog(one);
	writeHourLog(ten, {hours: 10});
	const timed = timeInTurn({one: checkProgram(one), ten: checkProgram(ten)}, 1);
	console.log('check --json, one hour and ten');
	for (const [name, result] of Object.entries(timed))
		console.log(`  ${name.padEnd(4)} ${seconds(result)}, peak memory ${result?.peakMib.toFixed(0)} MiB`);
	if (timed.one && timed.ten)
		console.log(
			`  time ${(timed.ten.seconds / timed.one.seconds).toFixed(2)}-fold, memory ${(timed.ten.peakMib / timed.one.peakMib).toFixed(2)}-fold`,
		);
}

function seconds(timed: Timed | undefined): string {
	return timed === undefined
		? 'not installed: skipped'
		: `${timed.seconds.toFixed(2)} s (${timed.cpuSeconds.toFixed(2)} s of processor time)`;
}

function tellFindings({stdout}: Timed): void {
	const {findings} = JSON.parse(stdout) as {findings: {code: string; channel: string | null}[]};
	const list = findings.map(({code, channel}) => `${code} ${channel ?? ''}`).join(', ');
	console.log(`  findings on this healthy hour: ${list === '' ? 'none' : list}`);
}

/** Columns of which two readers tell another lowest or highest value; zero, or one of them has not read them all. */
function differing(own: Timed, mawk: Timed): number {
	const {channels} = JSON.parse(own.stdout) as {channels: {min: number; max: number}[]};
	const rows = mawk.stdout
		.trim()
		.split('\n')
		.map(line => line.split(' ').map(Number));
	return channels.slice(0, 7).filter(({min, max}, i) => min !== rows[i][0] || max !== rows[i][1]).length;
}
