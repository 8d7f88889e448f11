import {readFileSync} from 'node:fs';
import {describe, expect, test} from 'vitest';
import {evidenceTable} from '../../source/faults/evidence.ts';
import {truthOf} from '../../source/simulator/simulate.ts';
import {type SimulationOptions, simulationFromOptions} from '../../source/simulator/simulation-from-options.ts';
import {sampleNames, type Twin, twinNames, twinOf, twinPath} from '../gloves/twin.ts';

// Beside each sample stands its twin: what is to be found in it. Held to the program on one side, and on the other to what was put into
// the sample, which its settings say (recordings/samples.json, drawn by the simulator).

const samples: Readonly<Record<string, SimulationOptions>> = JSON.parse(
	readFileSync(new URL('../../recordings/samples.json', import.meta.url), 'utf8'),
);
const read = (name: string): Twin => JSON.parse(readFileSync(twinPath(name), 'utf8'));

test('every sample has a twin, and every twin a sample', () => {
	expect(twinNames).toEqual(sampleNames);
});

describe('the program finds in a sample what its twin says', () => {
	test.each(sampleNames)('%s', async name => {
		expect(await twinOf(name)).toEqual(read(name));
	});
});

test('every name of evidence that a sample brings about has words and, where it is a measure, a unit', () => {
	const names = sampleNames.flatMap(name => read(name).findings.flatMap(({evidence}) => Object.keys(evidence)));
	expect(names.length).toBeGreaterThan(60);
	expect(names.filter(name => !Object.hasOwn(evidenceTable, name))).toEqual([]);
});

describe('a twin says what was put into its sample, and nothing else', () => {
	test.each(Object.keys(samples))('%s', name => {
		const truth = truthOf(simulationFromOptions({rate: 50, for: 25, ...samples[name]}));
		const {findings, verdict} = read(name);
		for (const fault of truth.faults) {
			if (fault.expect !== 'must') continue;
			const told = findings.filter(({code, channel}) => code === fault.code && channel === fault.channel);
			expect(told, `${fault.code} on ${fault.channel}`).not.toEqual([]);
			for (const {flaggedAt} of told) expect(flaggedAt).toBeGreaterThanOrEqual(fault.from);
		}
		const meant = truth.faults.flatMap(({code, channel, alternatives, may}) => [
			...[channel, ...alternatives].map(each => `${code} ${each}`),
			...may.map(each => `${each.code} ${each.channel}`),
		]);
		expect(findings.map(({code, channel}) => `${code} ${channel}`).filter(each => !meant.includes(each))).toEqual([]);
		expect(findings.filter(({first}) => first)).toHaveLength(findings.length === 0 ? 0 : 1);
		if (truth.faults.length === 0) expect(['pass', 'unproven']).toContain(verdict);
	});
});
