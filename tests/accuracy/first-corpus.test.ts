import {beforeAll, expect, test} from 'vitest';
import {simulate} from '../../source/simulator/simulate.ts';
import {drawCorpus} from './corpus.ts';
import {diagnoseItems} from './diagnose.ts';
import {expectationOf} from './first-expectation.ts';
import {type Outcome, score} from './score.ts';
import {type Floors, holdToFloors, holdToStates} from './tenth.ts';

const outcomes: Outcome[] = [];

const floors: Floors = {recall: 0.97, falsePerCase: 0.04, falsePerHealthyHour: 3.5, lateDelay: 7, slips: 5};

beforeAll(async () => {
	// `npm run accuracy` draws ten of each code and three hours.
	for (const {name, spec} of drawCorpus({perCode: 1, healthyHours: 0.3})) {
		const run = simulate(spec);
		const expectation = expectationOf(run.truth, spec, name !== spec.faults[0]?.code);
		outcomes.push(score(name, String(spec.seed), expectation, await diagnoseItems(run.items, run.truth, expectation)));
	}
}, 300_000);

test('a tenth of the corpus of the simulator is diagnosed', () => {
	expect(outcomes.length).toBeGreaterThan(40);
	holdToFloors(outcomes, floors);
});

test('a tenth of the corpus of the simulator has its channels in the right states', () => {
	holdToStates(outcomes, floors);
});
