import {describe, expect, it} from 'vitest';
import {high, low} from '../../source/features/travel-ends.ts';
import {type Course, type Drawing, fists, held, through} from '../gloves/draw.ts';
import {featuresOf, takeIn} from '../gloves/features-over.ts';

// Check-values D5.4, settings-stale: from ends that were visited at least three times, of fingers of which the sheet tells the ends.

const said = {min: 200, max: 800};

/** Thumb and index, of which the sheet tells both; the middle finger's it doesn't. Nothing else moves. */
function endsOf(thumb: Course, index: Course = held(40), seconds = 10) {
	const drawing: Drawing = {channels: {thumb, index, middle: thumb}, noise: 0, fullScale: 1000, seconds};
	const features = featuresOf(drawing, {fingers: {thumb: said, index: said}});
	takeIn(features, drawing);
	return features.travelEnds;
}

/** Ways from one of these levels to the next, a second each. */
const visiting = (...levels: readonly number[]): Course =>
	through(
		...levels.flatMap((level, k): [number, number][] => [
			[k, level],
			[k + 0.5, level],
		]),
	);

describe('the ends of a travel', () => {
	it('are known after three visits of each, which are a thumb’s own as well as an index finger’s', () => {
		const three = fists({open: 20, closed: 75, times: 3});
		for (const ends of [endsOf(three), endsOf(held(40), three)]) {
			const f = ends.areKnown(0) ? 0 : 1;
			expect(ends.visits(f)).toBe(3);
			expect(ends.areKnown(f)).toBe(true);
			expect(ends.of(f, low)).toBeCloseTo(200, 0);
			expect(ends.of(f, high)).toBeCloseTo(750, 0);
			expect(ends.spanOf(f)).toBeCloseTo(550, 0);
			expect(ends.areKnown(1 - f)).toBe(false);
		}
	});

	it('are not known after two, nor of a finger of which no sheet tells them', () => {
		const two = endsOf(fists({open: 20, closed: 75, times: 2}));
		expect([two.visits(0), two.areKnown(0), two.spanOf(0)]).toEqual([2, false, Number.NaN]);
		const three = endsOf(fists({open: 20, closed: 75, times: 3}));
		expect([three.visits(2), three.areKnown(2)]).toEqual([0, false]);
	});

	it.each([
		['upper', visiting(20, 75, 20, 55, 20, 65, 20), [200, Number.NaN]],
		['lower', visiting(75, 20, 75, 40, 75, 30, 75), [Number.NaN, 750]],
	])('are not both known where visits of the %s differ by more than a twentieth of the span', (_, thumb, expected) => {
		const ends = endsOf(thumb);
		expect([ends.of(0, low), ends.of(0, high)].map(Math.round)).toEqual(expected);
		expect(ends.areKnown(0)).toBe(false);
	});
});
