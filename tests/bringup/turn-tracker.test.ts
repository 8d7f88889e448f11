import {describe, expect, it} from 'vitest';
import {TurnTracker} from '../../source/bringup/turn-tracker.ts';

function turned(turns: number, radius = 450): TurnTracker {
	const tracker = new TurnTracker();
	const steps = Math.round(Math.abs(turns) * 100);
	for (let i = 0; i <= steps; i++) {
		const angle = (Math.sign(turns) * 2 * Math.PI * i) / 100;
		tracker.push(radius * Math.cos(angle), 0.9 * radius * Math.sin(angle), 512);
	}

	return tracker;
}

describe('TurnTracker', () => {
	it('counts whole and broken turns either way', () => {
		expect(turned(2).turns).toBeCloseTo(2, 6);
		expect(turned(-1.5).turns).toBeCloseTo(1.5, 6);
	});

	it('counts nothing near the middle, and nothing for there and back', () => {
		expect(turned(3, 100).turns).toBe(0);
		const tracker = new TurnTracker();
		for (const degrees of [0, 60, 120, 60, 0]) {
			const angle = (degrees * Math.PI) / 180;
			tracker.push(450 * Math.cos(angle), 450 * Math.sin(angle), 512);
		}

		expect(tracker.turns).toBeCloseTo(0, 6);
	});

	it('gives the reach to the four sides without a lone glitch', () => {
		const tracker = turned(2);
		tracker.push(512, 0, 512);
		const [left, right, up, down] = tracker.reach;
		// The lower of two neighbours: up to 1 − cos 3.6° = 0.2 % short.
		for (const [way, whole] of [
			[left, 450],
			[right, 450],
			[up, 405],
			[down, 405],
		]) {
			expect(way).toBeLessThanOrEqual(whole);
			expect(way).toBeGreaterThan(0.997 * whole);
		}
	});
});
