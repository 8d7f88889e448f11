import {beforeAll, expect, test} from 'vitest';
import {diagnoseText} from './diagnose.ts';
import {type Outcome, score} from './score.ts';
import {secondCorpus, secondSeed} from './second-model/draw.ts';
import {type Floors, holdToFloors, holdToStates} from './tenth.ts';

const outcomes: Outcome[] = [];

const floors: Floors = {recall: 0.85, falsePerCase: 0.16, falsePerHealthyHour: 1.3, lateDelay: 5, slips: 10};

beforeAll(async () => {
	const tenth = secondCorpus(secondSeed).filter((_, place) => place % 10 === 4);
	for (const {family, n, draw} of tenth) {
		const {text, declared, expectation} = draw();
		outcomes.push(score(family.name, String(n), expectation, await diagnoseText(text, declared, expectation)));
	}
}, 300_000);

test('a tenth of the corpus of the second model is diagnosed', () => {
	expect(outcomes.length).toBeGreaterThan(50);
	holdToFloors(outcomes, floors);
});

test('a tenth of the corpus of the second model has its channels in the right states', () => {
	holdToStates(outcomes, floors);
});
