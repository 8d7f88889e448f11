// Measures how right the diagnosis is: draws a labelled corpus, runs `check --json` on each case, counts.
// Flags: --per-code 10  --hours 3  --codes a,b  --seed N  --in-process  --verbose
import {mkdtempSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {parseArgs} from 'node:util';
import {simulate} from '../../source/simulator/simulate.ts';
import {drawCorpus} from './corpus.ts';
import {diagnoseByCheck, diagnoseInProcess, writeCase} from './diagnose.ts';
import {type Found, type Outcome, score} from './score.ts';
import {report} from './table.ts';

const {values} = parseArgs({
	options: {
		'per-code': {type: 'string', default: '10'},
		hours: {type: 'string', default: '3'},
		codes: {type: 'string'},
		seed: {type: 'string'},
		'in-process': {type: 'boolean', default: false},
		verbose: {type: 'boolean', default: false},
	},
});

/** Cases diagnosed at once. */
const atOnce = 2;

const outcomes: (Outcome | undefined)[] = [];
const folder = mkdtempSync(join(tmpdir(), 'glovebench-accuracy-'));
const cli = join(process.cwd(), 'dist/cli.js');
const running = new Set<Promise<void>>();

function note(
	place: number,
	name: string,
	seed: number,
	truth: ReturnType<typeof simulate>['truth'],
	found: readonly Found[],
): void {
	const outcome = score(name, truth, found);
	outcomes[place] = outcome;
	if (
		!values.verbose ||
		(outcome.result !== 'missed' && outcome.result !== 'wrong channel' && outcome.extra.length === 0)
	)
		return;
	const extra = outcome.extra.map(({code, channel}) => `${code}${channel === null ? '' : ` on ${channel}`}`);
	process.stderr.write(
		`${name} (seed ${seed}): ${outcome.result}${extra.length > 0 ? `; false: ${extra.join(', ')}` : ''}\n`,
	);
}

try {
	let place = 0;
	const corpus = drawCorpus({
		perCode: Number(values['per-code']),
		healthyHours: Number(values.hours),
		...(values.codes === undefined ? {} : {codes: values.codes.split(',').filter(code => code !== '')}),
		...(values.seed === undefined ? {} : {seed: Number(values.seed)}),
	});
	for (const {name, spec} of corpus) {
		const at = place++;
		const run = simulate(spec);
		if (values['in-process']) {
			note(at, name, spec.seed, run.truth, diagnoseInProcess(run));
			continue;
		}
		const options = writeCase(run, folder, String(at));
		const {truth} = run;
		const task: Promise<void> = diagnoseByCheck(cli, options)
			.then(found => {
				note(at, name, spec.seed, truth, found);
				rmSync(options[1]);
			})
			.finally(() => running.delete(task));
		running.add(task);
		if (running.size >= atOnce) await Promise.race(running);
	}
	await Promise.all(running);
	process.stdout.write(report(outcomes.filter(outcome => outcome !== undefined)));
} finally {
	rmSync(folder, {recursive: true, force: true});
}
