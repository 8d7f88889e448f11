import {expect} from 'vitest';
import type {Outcome} from './score.ts';
import {detailOf, totalsOf} from './table.ts';

/**
 * What a tenth of a corpus has to reach. The goals are recall 0.98, 0.02 false findings a case, half a false finding an hour of
 * healthy use, nine of ten faults named within 5 s of their evidence. Where a corpus falls short of them these are the figures
 * it has reached (`npm run accuracy` tells all), so that none is lost again.
 */
export type Floors = {
	readonly recall: number;
	readonly falsePerCase: number;
	readonly falsePerHealthyHour: number;
	/** Seconds; null where it is not held yet. */
	readonly lateDelay: number | null;
	/** Wrong states, verdicts, checks and proofs. */
	readonly slips: number;
};

export function holdToFloors(outcomes: readonly Outcome[], floors: Floors): void {
	const totals = totalsOf(outcomes);
	const detail = outcomes.flatMap(detailOf).join('\n');
	expect(totals.recall, `recall\n${detail}`).toBeGreaterThanOrEqual(floors.recall);
	expect(totals.falsePerCase, `false findings a case\n${detail}`).toBeLessThanOrEqual(floors.falsePerCase);
	expect(totals.falsePerHealthyHour, `false findings an hour\n${detail}`).toBeLessThanOrEqual(
		floors.falsePerHealthyHour,
	);
	if (totals.lateDelay !== null && floors.lateDelay !== null)
		expect(totals.lateDelay, `delay\n${detail}`).toBeLessThanOrEqual(floors.lateDelay);
}

/** Open pins that were called proven, checks that said more than they had seen, wrong states and verdicts. */
export function holdToStates(outcomes: readonly Outcome[], floors: Floors): void {
	const wrong = outcomes.map(outcome => ({...outcome, musts: [], extra: []})).flatMap(detailOf);
	expect(wrong.length, wrong.join('\n')).toBeLessThanOrEqual(floors.slips);
}
