import {describe, expect, it} from 'vitest';
import {RestNoise} from '../../source/features/rest-noise.ts';
import {StateBlock} from '../../source/features/state-block.ts';
import {type Course, fists, held, sum} from '../gloves/draw.ts';
import {featuresOver} from '../gloves/features-over.ts';

// Check-values D2, rest noise: what is left between neighbouring frames at rest, never below 0.3 of the smallest step, never taken
// at a rail.

/** Rest noise after blocks of `[roughness, off the rails]`, counts of 1023; the smallest step is `step`. */
function noiseAfter(blocks: readonly (readonly [rough: number, isOffRail: boolean])[], step = 0): number {
	const noise = new RestNoise(1, new StateBlock());
	for (const [rough, isOffRail] of blocks) noise.take(0, rough, step, isOffRail, 1023);
	return noise.of(0);
}
const blocks = (count: number, rough: number, isOffRail = true) =>
	Array.from({length: count}, () => [rough, isOffRail] as const);

describe('rest noise', () => {
	it('is not known before the first block', () => {
		expect(noiseAfter([])).toBeNaN();
	});
	it('is that of the quiet fifth: four blocks in five may lie in movement', () => {
		expect(noiseAfter([...blocks(8, 20), ...blocks(3, 1)])).toBe(1);
		expect(noiseAfter([...blocks(10, 20), ...blocks(1, 1)])).toBe(20);
	});
	it('is at least 0.3 of the smallest step', () => {
		expect(noiseAfter(blocks(8, 0), 4)).toBeCloseTo(1.2, 9);
		expect(noiseAfter(blocks(8, 2), 4)).toBe(2);
	});
	it('is not taken at a rail, where converters are silent, once four blocks lie off it', () => {
		expect(noiseAfter([...blocks(20, 0, false), ...blocks(4, 2)], 1)).toBe(2);
		expect(noiseAfter([...blocks(20, 0, false), ...blocks(3, 2)], 1)).toBeCloseTo(0.3, 9);
	});
	it('forgets one channel and leaves the others', () => {
		const noise = new RestNoise(2, new StateBlock());
		for (const a of [0, 1]) noise.take(a, 3, 1, true, 1023);
		noise.forget(0);
		expect([noise.of(0), noise.of(1)]).toEqual([Number.NaN, 3]);
	});
});

describe('rest noise of a drawn channel', () => {
	const ofNoise = (index: Course, noise: number, fullScale = 1023): number => {
		const features = featuresOver({channels: {index}, seconds: 30, noise, fullScale});
		return features.percent(features.analog.noise.of(0));
	};
	const sway: Course = t => 3 * Math.sin(2 * Math.PI * 0.5 * t) + 0.2 * t;

	it('is the noise that was drawn, whatever the hand does', () => {
		for (const course of [held(40), fists({open: 20, closed: 80, times: 14}), sum(held(40), sway)])
			expect(ofNoise(course, 0.5) / 0.5).toBeGreaterThan(0.85);
		for (const course of [held(40), fists({open: 20, closed: 80, times: 14}), sum(held(40), sway)])
			expect(ofNoise(course, 0.5) / 0.5).toBeLessThan(1.15);
	});
	it('knows nothing of creep and sway: a hand at rest moves slower than 3 Hz', () => {
		expect(ofNoise(sum(held(40), sway), 0, 4095)).toBeLessThan(0.03);
	});
	it('is 0.3 of a count where nothing but counts is there', () => {
		expect(ofNoise(t => 40 + 0.01 * t, 0)).toBeCloseTo((0.3 / 1023) * 100, 6);
	});
});
