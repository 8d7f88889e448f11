import {describe, expect, it} from 'vitest';
import {checkRows} from '../../source/session/check-rows.ts';
import type {CheckRow, Finding} from '../../source/session/snapshot.ts';
import type {Truth} from '../../source/simulator/simulate.ts';
import {scenarioCodes} from '../gloves/scenario.ts';
import {faultySession} from '../gloves/simulated-session.ts';

// Both limits of every definition, with the glove, the stream and the physical cause drawn at random: just inside the
// must (severity 0 is its limit; 0.15 is a fifteenth to a seventh beyond) and just inside the must not (severity −1). What lies between may be answered either way.

/** What needs a hand that moves as one, or fifteen seconds without a press: a drawn script may not give it, and the check then waits. */
const mayWait = new Set(['backlash', 'button-held']);

/** Grains that are met in a quick stroke don't show, so that fewer are seen than there are. */
const beyond = new Map([['rough-track', 0.4]]);

type Diagnosis = {readonly truth: Truth; readonly findings: readonly Finding[]; readonly checks: readonly CheckRow[]};

function diagnose(code: string, severity: number, seed: number): Diagnosis {
	const {session, truth} = faultySession(code, severity, seed);
	return {truth, findings: session.findings, checks: checkRows(session)};
}

const named = ({code, channel}: Pick<Finding, 'code' | 'channel'>): string =>
	channel === null ? code : `${code} on ${channel}`;

const seeds = [1, 2];

describe('just inside the must', () => {
	for (const code of scenarioCodes) {
		for (const seed of seeds) {
			it(`${code} is found on the right channel (glove ${seed})`, () => {
				const {truth, findings, checks} = diagnose(code, beyond.get(code) ?? 0.15, seed);
				const [fault] = truth.faults;
				// A worn spot crackles as often as the drawn script passes it, which may be too seldom.
				if (code === 'rough-track' && fault.variant === 'worn') return;
				const row = checks.find(one => one.code === code && one.channel === fault.channel);
				if (mayWait.has(code) && row?.state === 'waiting') return;
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
