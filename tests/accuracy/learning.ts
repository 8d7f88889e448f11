// Measures the diagnosis on gloves whose firmware learns its range from power-on: false findings on healthy ones, and what
// is found of faults that begin after the end of learning. `npm run accuracy -- --learning`
// Flags: --seeds 200 of each healthy kind  --fault-seeds 40 of each fault  --seed N
// Every false finding and every miss is told on stderr with its seed.
import {parseArgs} from 'node:util';
import {laterFaults, learners, learningKinds} from '../gloves/learning-streams.ts';
import {faultyTrials, healthyTrials} from './learning-trial.ts';

const {values} = parseArgs({
	options: {
		learning: {type: 'boolean', default: true},
		seeds: {type: 'string', default: '200'},
		'fault-seeds': {type: 'string', default: '40'},
		seed: {type: 'string', default: '930000'},
	},
});

const first = Number(values.seed);
const seeds = Number(values.seeds);
const faultSeeds = Number(values['fault-seeds']);

const print = (...lines: string[]) => process.stdout.write(`${lines.join('\n')}\n`);
const tell = (line: string) => process.stderr.write(`${line}\n`);

print(
	'| healthy stream | sessions | findings | fingers learned | end of learning, s (p50, p95) |',
	'|---|---|---|---|---|',
);
for (const kind of learningKinds) {
	const name = `${kind.bits} bit, ${kind.rest} s of rest first`;
	let findings = 0;
	const ends: number[] = [];
	for (const trial of healthyTrials(kind, first, seeds)) {
		findings += trial.findings.length;
		ends.push(...trial.learnedUntil.filter(end => end !== null));
		if (trial.findings.length > 0) tell(`${name}, seed ${trial.seed}: ${trial.findings.join(', ')}`);
	}
	ends.sort((a, b) => a - b);
	const at = (share: number): string => (ends[Math.floor(share * (ends.length - 1))] ?? Number.NaN).toFixed(1);
	const share = ((100 * ends.length) / (learners.length * seeds)).toFixed(1);
	print(`| ${name} | ${seeds} | ${findings} | ${share} % | ${at(0.5)}, ${at(0.95)} |`);
}

print(
	'',
	'| fault after the end of learning | sessions that must | found | recall | learned before it | false findings |',
	'|---|---|---|---|---|---|',
);
for (const fault of laterFaults) {
	let [musts, found, learned, wrong] = [0, 0, 0, 0];
	for (const trial of faultyTrials(fault, first + 500_000, faultSeeds)) {
		musts++;
		if (trial.isFound) found++;
		if (trial.wasLearned) learned++;
		wrong += trial.wrong.length;
		if (!trial.isFound || trial.wrong.length > 0)
			tell(`${trial.told}: ${[trial.isFound ? 'found' : 'missed', ...trial.wrong].join(', ')}`);
	}
	print(`| ${fault} | ${musts} | ${found} | ${(found / musts).toFixed(3)} | ${learned} | ${wrong} |`);
}
