import {describe, expect, it} from 'vitest';
import {Random} from '../../source/simulator/random.ts';
import {gatherItems, itemsOf} from './simulated.ts';

/** Twenty seconds of a resting hand whose thumb has noise of this correlation, 100 frames/s, 12 bit. */
function restingCorrelation(correlation: number): number | undefined {
	const random = new Random(4);
	let value = 0;
	const rows = Array.from({length: 2000}, () => {
		value = correlation * value + Math.sqrt(1 - correlation ** 2) * random.normal(0, 12);
		return [Math.round(2000 + value), 1500, 1600, 1700, 1800];
	});
	const {gathered} = gatherItems(itemsOf(rows, 100), {fullScale: 4095, layout: 'thumb,index,middle,ring,little'});
	// Slow noise makes some of the blocks look like movement.
	expect(gathered.channels[0].rest.seconds).toBeGreaterThan(10);
	return gathered.channels[0].rest.correlation;
}

describe('RestScatter', () => {
	// By construction of the noise. Quarter-second blocks about their own lines cannot see slow noise whole.
	it('finds no correlation in white noise', () => {
		expect(restingCorrelation(0)).toBeLessThan(0.05);
	});

	it.each([0.3, 0.6])('finds a correlation of %f in noise that a filter has smoothed', correlation => {
		expect(Math.abs(restingCorrelation(correlation)! - correlation)).toBeLessThan(0.12);
	});

	it('says nothing before half a second of rest', () => {
		const rows = Array.from({length: 20}, (_, i) => [500 + (i % 2), 500, 500, 500, 500]);
		const {gathered} = gatherItems(itemsOf(rows, 100), {layout: 'thumb,index,middle,ring,little'});
		expect(gathered.frames).toBe(20);
		expect(gathered.channels[0].rest.correlation).toBeUndefined();
	});
});
