import {describe, expect, it} from 'vitest';
import type {Stillness} from '../../source/features/stillness.ts';
import {type Course, fists, held, through} from '../gloves/draw.ts';
import {featuresOver} from '../gloves/features-over.ts';

// Since when a channel does nothing: quarter-second means within 0.3 % FS or 3 rest noises, at most 1.5 % FS (check-values D5.4,
// stuck-*); and since when it lies at an end of the scale, nothing above 6 % FS from it.

function stillOf(index: Course, noise = 0.05, seconds = 12): Stillness {
	return featuresOver({channels: {index}, seconds, noise, fullScale: 4095}).analog.still;
}

describe('since when a channel does nothing', () => {
	it('is the start where it never did anything', () => {
		expect(stillOf(held(40)).since[0]).toBe(0);
	});
	it('is the block in which it came to rest', () => {
		// Back at 2.4 s: within 0.3 % FS from the block that begins at 2.25 or 2.5 s on.
		const {since} = stillOf(fists({open: 20, closed: 75, times: 1}));
		expect(since[0]).toBeGreaterThanOrEqual(2.25);
		expect(since[0]).toBeLessThanOrEqual(2.5);
	});
	it('is kept through a creep of 0.2 % FS, and ends at one of 0.5', () => {
		expect(stillOf(t => 40 + (0.2 / 12) * t, 0.01).since[0]).toBe(0);
		// Within 0.3 of 0.5 % FS in 12 s: the last 7 s.
		expect(stillOf(t => 40 + (0.5 / 12) * t, 0.01).since[0]).toBeGreaterThan(4);
	});
	it('is as long ago as readings are held where what it left lies farther back', () => {
		// 0.25 % FS off after the first second, 0.15 farther after 275: together more than 0.3. Four minutes and more are held.
		const index: Course = t => (t < 1 ? 40 : t < 275 ? 40.25 : 40.4);
		const {since} = featuresOver({channels: {index}, seconds: 276, noise: 0.01, fullScale: 4095, rate: 32}).analog
			.still;
		expect(since[0]).toBeGreaterThanOrEqual(1);
		expect(since[0]).toBeLessThan(276 - 240);
	});
	it('allows three rest noises: steps of 0.6 % FS are nothing at a noise of 0.4, and are at 0.1', () => {
		const steps: Course = through([6, 40], [6.2, 40.6]);
		expect(stillOf(steps, 0.4).since[0]).toBe(0);
		expect(stillOf(steps, 0.1).since[0]).toBeGreaterThan(5);
	});
	it('allows 1.5 % FS at most, however noisy it is', () => {
		expect(stillOf(through([6, 40], [6.2, 42.5]), 1).since[0]).toBeGreaterThan(5);
	});
	it('says how much of that it uses', () => {
		// Noise of the means: 0.05 % FS of 25 readings.
		expect(stillOf(held(40)).shareOfLimit[0]).toBeLessThan(0.25);
	});
});

describe('since when a channel lies at an end', () => {
	it('begins when the last reading more than 6 % FS from it is over', () => {
		const still = stillOf(through([3, 50], [3.4, 0.5]));
		expect(still.nearSince(0, 'low')).toBeGreaterThan(3);
		expect(still.nearSince(0, 'low')).toBeLessThanOrEqual(3.5);
		expect((100 * still.meanFrom(0, 'low')) / 4095).toBeCloseTo(0.5, 1);
	});
	it('is not broken by a crackle of 5 % FS, and is by one of 7', () => {
		const crackle =
			(height: number): Course =>
			t =>
				t > 6 && t < 6.02 ? height : 0.3;
		expect(stillOf(crackle(5)).nearSince(0, 'low')).toBe(0);
		expect(stillOf(crackle(7)).nearSince(0, 'low')).toBeGreaterThan(6);
	});
	it('is measured from full scale at the other end', () => {
		const still = stillOf(held(99.5));
		expect(still.nearSince(0, 'high')).toBe(0);
		expect((100 * still.meanFrom(0, 'high')) / 4095).toBeCloseTo(0.5, 1);
	});
});
