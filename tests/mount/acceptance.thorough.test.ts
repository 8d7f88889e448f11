import {describe, expect, it} from 'vitest';
import {cases, measure, quantile} from './measure.ts';

// check-values O5. A few trials of each case in seconds; all of them with `npm run accuracy -- mount`. Of 40 trials a median
// is off by 15 % (one standard deviation) for errors in three dimensions, so that the band is wider than the 20 % of 300.
const trials = 40;
const band = 1.5;
const named = (name: string) => cases.find(each => each.name.startsWith(name))!;

describe('the offset of drawn trials', () => {
	it.each(['±25°', '±40°', 'two axes', 'contact wander', 'gestures once', 'two gestures', 'gestures 5° off'])(
		'%s: errors are those of the table',
		name => {
			const each = named(name);
			const {mm, degrees} = measure(each, trials, 1);
			for (const [list, wanted] of [
				[mm, each.mm],
				[degrees, each.degrees],
			] as const) {
				if (wanted === undefined) continue;
				expect(quantile(list, 0.5) / wanted[0]).toBeLessThan(band);
				expect(quantile(list, 0.5) / wanted[0]).toBeGreaterThan(1 / band);
			}
		},
	);

	it('are refused where the hand turned about one axis only, and the missing movement is named', () => {
		const {refused, moves} = measure({spec: {swing: [25, 0, 0]}}, 15, 300);
		expect(refused).toBe(1);
		for (const move of moves)
			expect(move).toMatch(
				/^(?:swing the hand from side to side|roll the hand about its fingers|nod the hand).*only ±\d/,
			);
	});

	it('have regions that hold the true value in most trials', () => {
		const {pointCovered, turnCovered} = measure({spec: {}}, 60, 2000);
		expect(pointCovered).toBeGreaterThan(0.85);
		expect(turnCovered).toBeGreaterThan(0.85);
	});
});
