import {expect} from 'vitest';
import type {Outcome} from './score.ts';
import {detailOf, totalsOf} from './table.ts';

/**
 * What a tenth of a corpus has to reach: recall 0.98, 0.02 false findings a case, half a false finding an hour of healthy
 * use, nine of ten faults named within 5 s of their evidence. In hours as few as these, half a finding an hour is none.
 */
export function holdToFloors(outcomes: readonly Outcome[]): void {
	const totals = totalsOf(outcomes);
	const detail = outcomes.flatMap(detailOf).join('\n');
	expect(totals.recall, `recall\n${detail}`).toBeGreaterThanOrEqual(0.98);
	expect(totals.falsePerCase, `false findings a case\n${detail}`).toBeLessThanOrEqual(0.02);
	expect(totals.falsePerHealthyHour, `false findings an hour\n${detail}`).toBeLessThanOrEqual(0.5);
	if (totals.lateDelay !== null) expect(totals.lateDelay, `delay\n${detail}`).toBeLessThanOrEqual(5);
}

/** Open pins that were called proven, checks that said more than they had seen, wrong states and verdicts. */
export function holdToStates(outcomes: readonly Outcome[]): void {
	const wrong = outcomes.map(outcome => ({...outcome, musts: [], extra: []})).flatMap(detailOf);
	expect(wrong).toEqual([]);
}
