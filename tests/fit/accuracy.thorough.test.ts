import {describe, expect, it} from 'vitest';
import {centreError, fitDrawn, rangeErrors, wrongFlips} from './drawn-gloves.ts';

// Truth: the simulator's own travel without noise, and the stick's built-in rest point. The same over any number of
// gloves: node tests/tools/run.mjs tests/fit/measure.ts
describe.each([1, 11])('fit on gloves drawn from seed %i and the nine after it', first => {
	const drawn = Array.from({length: 10}, (_, i) => fitDrawn(first + i));

	it('finds every range within 1 % FS of the readings really used', () => {
		for (const fitted of drawn) {
			expect(fitted.result.fingers.length, `seed ${fitted.spec.seed}`).toBe(fitted.glove.fingers.length);
			for (const {name, percentFs} of rangeErrors(fitted)) {
				expect(percentFs, `seed ${fitted.spec.seed} ${name}`).toBeLessThan(1);
			}
		}
	});

	it('finds which way every finger goes', () => {
		for (const fitted of drawn) expect(wrongFlips(fitted), `seed ${fitted.spec.seed}`).toEqual([]);
	});

	it('finds the centre of the stick within 1 % FS where it was let go often enough', () => {
		const errors = drawn.map(fitted => ({error: centreError(fitted), ...fitted}));
		for (const {error, result, spec} of errors) {
			if (error === undefined) expect(result.refused.map(({name}) => name)).toContain('stick');
			else expect(error, `seed ${spec.seed}`).toBeLessThan(1);
		}

		expect(errors.filter(({error}) => error !== undefined).length).toBeGreaterThanOrEqual(7);
	});

	it('tells firmware that scales from firmware that does not', () => {
		for (const {glove, spec, result} of drawn) {
			expect(result.firmware.scales, `seed ${spec.seed}`).toBe(glove.firmware.kind === 'scaled' ? 'yes' : 'no');
			expect(result.firmware.learning, `seed ${spec.seed}`).toBe(glove.firmware.kind === 'scaled' ? 'complete' : null);
		}
	});
});
