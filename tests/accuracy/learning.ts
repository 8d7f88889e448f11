// Measures the diagnosis on gloves whose firmware learns its range from power-on: false findings on healthy ones, and what
// is found of faults that come after the end of learning. `npm run accuracy -- --learning`
// Flags: --seeds 200  --seed N  --verbose
import {parseArgs} from 'node:util';
import {Session} from '../../source/session/session.ts';
import type {Finding} from '../../source/session/snapshot.ts';
import {faultyLearning, healthyLearning, type LearningStream, rests} from '../gloves/learning-streams.ts';

const {values} = parseArgs({
	options: {
		learning: {type: 'boolean', default: true},
		seeds: {type: 'string', default: '200'},
		seed: {type: 'string', default: '930000'},
		verbose: {type: 'boolean', default: false},
	},
});

/** Faults that begin when every range has been learned, as `--fault` takes them; severities are drawn from these in turn. */
const onset = 35;
const faults = ['dropout', 'floating-input/wander', 'floating-input/hum', 'reversed-sensor'];
const channels = ['thumb', 'index', 'middle', 'ring', 'little'];
const severities = [0.2, 0.5, 0.8];

function diagnose({items, seconds, truth}: LearningStream): Session {
	const session = new Session({timing: 'measured', baud: truth.declared.baud});
	for (const item of items) session.push(item);
	session.end(seconds);
	return session;
}

function told(findings: readonly Finding[]): string {
	return findings
		.map(({code, channel, from}) => `${code}${channel === null ? '' : ` on ${channel}`} at ${from} s`)
		.join(', ');
}

const first = Number(values.seed);
const count = Number(values.seeds);
const lines = [
	'| stream | sessions | with false findings | learned | end of learning, s (p50, p95) |',
	'|---|---|---|---|---|',
];
for (const bits of [10, 12] as const) {
	for (const rest of rests) {
		let wrong = 0;
		const ends: number[] = [];
		for (let seed = first; seed < first + count; seed++) {
			const {findings, channels: views} = diagnose(healthyLearning(seed, bits, rest)).snapshot();
			for (const {learnedUntil} of views) if (learnedUntil !== null) ends.push(learnedUntil);
			if (findings.length === 0) continue;
			wrong++;
			if (values.verbose) process.stderr.write(`${bits} bit, rest ${rest} s, seed ${seed}: ${told(findings)}\n`);
		}
		ends.sort((a, b) => a - b);
		const at = (share: number): string => (ends[Math.floor(share * (ends.length - 1))] ?? Number.NaN).toFixed(1);
		const share = ((100 * ends.length) / (5 * count)).toFixed(1);
		lines.push(
			`| ${bits} bit, ${rest} s of rest first | ${count} | ${wrong} | ${share} % of fingers | ${at(0.5)}, ${at(0.95)} |`,
		);
	}
}
lines.push(
	'',
	'| fault after the end of learning | sessions that must | found | recall | with false findings |',
	'|---|---|---|---|---|',
);
for (const fault of faults) {
	let [musts, found, wrong] = [0, 0, 0];
	for (let n = 0; n < count; n++) {
		const seed = first + 500_000 + n;
		const bits = n % 2 === 0 ? 10 : 12;
		const text = `${fault}:${channels[n % channels.length]}@${onset}s*${severities[n % severities.length]}`;
		const stream = faultyLearning(seed, bits, text);
		const [truth] = stream.truth.faults;
		if (truth.expect !== 'must') continue;
		musts++;
		const {findings} = diagnose(stream);
		const isFound = findings.some(({code, channel}) => code === truth.code && channel === truth.channel);
		if (isFound) found++;
		const false_ = findings.filter(
			({code, channel}) =>
				(code !== truth.code || channel !== truth.channel) &&
				!truth.may.some(may => may.code === code && may.channel === channel),
		);
		if (false_.length > 0) wrong++;
		if (values.verbose && (!isFound || false_.length > 0))
			process.stderr.write(`${text}, ${bits} bit, seed ${seed}: ${isFound ? 'found' : 'missed'}; ${told(false_)}\n`);
	}
	lines.push(`| ${fault} | ${musts} | ${found} | ${(found / musts).toFixed(3)} | ${wrong} |`);
}
process.stdout.write(`${lines.join('\n')}\n`);
