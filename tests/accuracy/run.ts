// Measures how right the diagnosis is: on two corpora of our own, and on folders of logs that others made.
// Flags: --seed N  --only REGEX  --detail  --first-only  --second-only  --corpus DIR  --real DIR  --expect FILE
//        of the first corpus: --per-code 10  --hours 3
import {parseArgs} from 'node:util';
import {simulate} from '../../source/simulator/simulate.ts';
import {drawCorpus, firstSeed} from './corpus.ts';
import {diagnoseItems, diagnoseText} from './diagnose.ts';
import {expectationOf} from './first-expectation.ts';
import {drawnFolder, type OutsideCase, recordedFolder} from './outside.ts';
import {type Outcome, score} from './score.ts';
import {secondCorpus, secondSeed} from './second-model/draw.ts';
import {detailOf, report} from './table.ts';

const {values} = parseArgs({
	options: {
		seed: {type: 'string'},
		only: {type: 'string', default: '.'},
		detail: {type: 'boolean', default: false},
		'first-only': {type: 'boolean', default: false},
		'second-only': {type: 'boolean', default: false},
		corpus: {type: 'string'},
		real: {type: 'string'},
		expect: {type: 'string'},
		'per-code': {type: 'string', default: '10'},
		hours: {type: 'string', default: '3'},
	},
});

const only = new RegExp(values.only);
const seed = values.seed === undefined ? undefined : Number(values.seed);

async function* firstOutcomes(): AsyncGenerator<Outcome> {
	const corpus = drawCorpus({
		perCode: Number(values['per-code']),
		healthyHours: Number(values.hours),
		// Seeds of neighbouring runs must not share cases.
		...(seed !== undefined && {seed: firstSeed + seed * 1_000_000}),
	});
	for (const {name, spec} of corpus) {
		const code = spec.faults[0]?.code ?? 'healthy';
		if (!only.test(code) && !only.test(name)) continue;
		const run = simulate(spec);
		const expectation = expectationOf(run.truth, spec, name !== code);
		const row = expectation.musts[0]?.codes[0] ?? 'healthy';
		yield score(row, name, expectation, await diagnoseItems(run.items, run.truth, expectation));
	}
}

async function* secondOutcomes(): AsyncGenerator<Outcome> {
	for (const {family, n, draw} of secondCorpus(seed ?? secondSeed)) {
		if (!only.test(family.name) && !(family.code && only.test(family.code))) continue;
		const {text, declared, expectation} = draw();
		const diagnosis = await diagnoseText(text, declared, expectation);
		yield score(family.name, String(n), expectation, diagnosis);
	}
}

async function* outsideOutcomes(cases: readonly OutsideCase[]): AsyncGenerator<Outcome> {
	for (const {row, name, expectation, diagnose} of cases) {
		if (only.test(row) || only.test(name)) yield score(row, name, expectation, await diagnose());
	}
}

async function tell(title: string, outcomes: AsyncGenerator<Outcome>): Promise<void> {
	const all: Outcome[] = [];
	for await (const outcome of outcomes) {
		all.push(outcome);
		if (values.detail) for (const line of detailOf(outcome)) process.stdout.write(`${line}\n`);
	}
	process.stdout.write(`${report(title, all)}\n`);
}

if (!values['second-only']) await tell('First corpus: the product’s own simulator', firstOutcomes());
if (!values['first-only']) await tell('Second corpus: a motion model of its own', secondOutcomes());
if (values.corpus) await tell('Drawn by others', outsideOutcomes(drawnFolder(values.corpus)));
if (values.real) await tell('Recorded by others', outsideOutcomes(recordedFolder(values.real, values.expect)));
