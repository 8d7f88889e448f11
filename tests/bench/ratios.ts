import {spawnSync} from 'node:child_process';
import {statSync} from 'node:fs';
import {createRequire} from 'node:module';
import path from 'node:path';
import {awkProgram, checkProgram} from './check-hour.ts';
import {framesPerSecond, type LineForm, writeHourLog} from './hour-log.ts';
import {type Program, type Timed, timeInTurn} from './timed.ts';

const frames = 3600 * framesPerSecond;

/** Goal and limit of what `check` with all findings may cost, in times what mawk takes for three numbers a column. */
const goal = 0.6;
const most = 0.8;

/** What a byte of a line with labels or of a JSON line may cost, in times a byte of a line with commas. */
const mostOfComma = 1.5;

/** Lowest, highest and mean of every column, as one writes it in Node. */
const readlineScript = (file: string): string =>
	`const lo=[],hi=[],sum=[];let n=0;require('readline').createInterface({input:require('fs').createReadStream(${JSON.stringify(file)})}).on('line',l=>{n++;const v=l.split(',');for(let i=0;i<v.length;i++){const x=+v[i];if(!(x>=lo[i]))lo[i]=x;if(!(x<=hi[i]))hi[i]=x;sum[i]=(sum[i]||0)+x}}).on('close',()=>console.log(lo,hi,sum.map(s=>s/n)))`;

/** The same asked of DuckDB. */
const duckSql = (file: string): string =>
	`SUMMARIZE SELECT * FROM read_csv('${file.replaceAll("'", "''")}', header=false)`;
const duckScript = (file: string): string =>
	`require('@duckdb/node-api').DuckDBInstance.create(':memory:',{threads:'1'}).then(i=>i.connect()).then(c=>c.runAndReadAll(${JSON.stringify(duckSql(file))})).then(r=>console.log(String(r.getRows().length)))`;

/** One table of ratios, all of one run: the same three numbers by other programs, every finding by ours. */
export function benchRatios(folder: string): void {
	const file = path.join(folder, 'hour.csv');
	writeHourLog(file);
	const programs: Record<string, Program> = {
		'mawk: lowest, highest, mean': ['mawk', '-F,', awkProgram, file],
		'Node readline + split: the same': [process.execPath, '-e', readlineScript(file)],
		...(hasDuckDb() && {'DuckDB: the same': [process.execPath, '-e', duckScript(file)]}),
		'check: every finding': checkProgram(file),
	};
	const timed = timeInTurn(programs);
	console.log(
		`one hour, 12 columns: ${frames} lines, ${(statSync(file).size / 1e6).toFixed(1)} MB; medians of one run`,
	);
	console.log(`  ${'program'.padEnd(34)}processor  ÷ mawk   wall  ÷ mawk`);
	const [mawk] = Object.values(timed);
	for (const [name, run] of Object.entries(timed)) console.log(`  ${name.padEnd(34)}${rowOf(run, mawk)}`);
	if (!hasDuckDb()) console.log('  DuckDB: skipped, @duckdb/node-api is not installed');
	console.log(`  goal for check ≤ ${goal}, must ≤ ${most}`);
	tellForms(folder, file);
	tellStages(file);
	tellAllocation();
	tellDeoptimisations(file);
}

function rowOf(run: Timed | undefined, mawk: Timed | undefined): string {
	if (run === undefined) return 'not installed: skipped';
	const times = (own: number, other: number | undefined): string =>
		(other === undefined ? '' : (own / other).toFixed(2)).padStart(8);
	return `${run.cpuSeconds.toFixed(2).padStart(7)} s${times(run.cpuSeconds, mawk?.cpuSeconds)}${run.seconds.toFixed(2).padStart(7)} s${times(run.seconds, mawk?.seconds)}${Number.isNaN(run.peakMib) ? '' : `   ${run.peakMib.toFixed(0)} MiB`}`;
}

function hasDuckDb(): boolean {
	try {
		createRequire(import.meta.url).resolve('@duckdb/node-api');
		return true;
	} catch {
		return false;
	}
}

/** What a byte costs in each form of line. */
function tellForms(folder: string, comma: string): void {
	const files: Record<LineForm, string> = {
		comma,
		labels: path.join(folder, 'hour-labels.log'),
		json: path.join(folder, 'hour-json.log'),
	};
	for (const form of ['labels', 'json'] as const) writeHourLog(files[form], {form});
	const timed = timeInTurn(
		Object.fromEntries(Object.entries(files).map(([form, file]) => [form, checkProgram(file)])),
		3,
	);
	const perByte = (form: LineForm): number =>
		(1e9 * (timed[form]?.cpuSeconds ?? Number.NaN)) / statSync(files[form]).size;
	console.log(`forms of a line, processor time per byte against comma (must ≤ ${mostOfComma})`);
	for (const form of ['comma', 'labels', 'json'] as const)
		console.log(
			`  ${form.padEnd(8)}${perByte(form).toFixed(0).padStart(6)} ns a byte  ${(perByte(form) / perByte('comma')).toFixed(2)}`,
		);
}

/** The built-in counter's table. */
function tellStages(file: string): void {
	const {stderr} = spawnSync(process.execPath, ['dist/cli.js', 'check', file, '--json'], {
		encoding: 'utf8',
		env: {...process.env, GLOVEBENCH_PROFILE: '1'},
		maxBuffer: 1 << 26,
	});
	process.stdout.write(stderr);
}

function tellAllocation(): void {
	const {stdout} = spawnSync(
		process.execPath,
		['--expose-gc', '--max-semi-space-size=256', 'tests/tools/run.mjs', 'tests/bench/engine-run.ts', '12'],
		{encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit']},
	);
	process.stdout.write(stdout);
}

/** How often V8 threw compiled code away: each time costs until it is compiled anew. */
function tellDeoptimisations(file: string): void {
	const {stdout} = spawnSync(process.execPath, ['--trace-deopt', 'dist/cli.js', 'check', file, '--json'], {
		encoding: 'utf8',
		maxBuffer: 1 << 28,
	});
	const reasons = new Map<string, number>();
	for (const [, reason] of stdout.matchAll(/^\[bailout \(kind: [^,]*, reason: ([^)]*)\)/gm))
		reasons.set(reason, (reasons.get(reason) ?? 0) + 1);
	const count = [...reasons.values()].reduce((sum, one) => sum + one, 0);
	const told = [...reasons].sort((one, other) => other[1] - one[1]).slice(0, 4);
	console.log(
		`deoptimisations in one run: ${count}${told.map(([reason, times]) => `; ${times} × ${reason}`).join('')}`,
	);
}
