import {describe, expect, it} from 'vitest';
import {Session} from '../../source/session/session.ts';
import type {Finding} from '../../source/session/snapshot.ts';
import {Random} from '../../source/simulator/random.ts';
import {simulate, type Truth} from '../../source/simulator/simulate.ts';
import {randomScenario, scenarioCodes} from '../gloves/scenario.ts';

// Both limits of every definition, with the glove, the stream and the physical cause drawn at random: just inside the
// must (severity 0 is its limit) and just inside the must not (severity −1). What lies between may be answered either way.

function diagnose(code: string, severity: number, seed: number): {truth: Truth; findings: readonly Finding[]} {
	const {spec} = randomScenario(new Random(seed), {code, severity});
	// From the first frame on: before a fault that begins late the glove may be anywhere between the limits.
	const {items, truth} = simulate({...spec, faults: spec.faults?.map(fault => ({...fault, from: 0}))});
	const {baud, fullScale, layout, targetRate} = truth.declared;
	const session = new Session({
		timing: 'measured',
		baud,
		fullScale,
		...(layout === null ? {} : {layout}),
		...(targetRate === null ? {} : {targetRate}),
	});
	for (const item of items) session.push(item);
	session.end(truth.durationSeconds);
	return {truth, findings: session.findings};
}

const named = ({code, channel}: Pick<Finding, 'code' | 'channel'>): string =>
	channel === null ? code : `${code} on ${channel}`;

const seeds = [1, 2];

describe('just inside the must', () => {
	for (const code of scenarioCodes) {
		for (const seed of seeds) {
			it(`${code} is found on the right channel (glove ${seed})`, () => {
				const {truth, findings} = diagnose(code, 0.05, seed);
				const [fault] = truth.faults;
				const right = [fault.channel, ...fault.alternatives].map(channel => named({code, channel}));
				expect(
					findings.map(named).filter(name => right.includes(name)),
					JSON.stringify(findings.map(named)),
				).not.toEqual([]);
			});
		}
	}
});

describe('just inside the must not', () => {
	for (const code of scenarioCodes) {
		for (const seed of seeds) {
			it(`${code} is not said (glove ${seed})`, () => {
				const {findings} = diagnose(code, -1, seed);
				expect(findings.filter(finding => finding.code === code).map(named)).toEqual([]);
			});
		}
	}
});
