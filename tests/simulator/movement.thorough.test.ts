import {describe, expect, test} from 'vitest';
import type {GloveSpec} from '../../source/simulator/glove.ts';
import {Motion} from '../../source/simulator/movement.ts';
import {Random} from '../../source/simulator/random.ts';
import {parseScript} from '../../source/simulator/script-text.ts';
import {benchSpec} from './bench.ts';

function still(glove: GloveSpec): GloveSpec {
	return {...glove, hand: {...glove.hand, tremorShare: 0, swayShare: 0}};
}

describe('Motion', () => {
	test('a posture is kept with creep and sway below 3 Hz, and let go of to a relaxed hand', () => {
		const sways: number[] = [];
		const drifts: number[] = [];
		const left: number[] = [];
		for (let seed = 1; seed <= 30; seed++) {
			const motion = new Motion(still(benchSpec([]).glove), parseScript('posture 60s, rest 60s'), new Random(seed));
			const values = Array.from({length: 6600}, (_, i) => motion.finger(1, i * 0.01));
			left.push(values[6599]);
			for (let at = 200; at < 5700; at += 200) {
				const piece = values.slice(at, at + 200);
				// Two seconds in which the posture was not changed: within 3 % either way.
				if (Math.max(...piece) - Math.min(...piece) > 0.06) continue;
				const mean = piece.reduce((sum, value) => sum + value, 0) / 200;
				sways.push(Math.sqrt(piece.reduce((sum, value) => sum + (value - mean) ** 2, 0) / 200));
				drifts.push(Math.abs(piece[199] - piece[0]) / 2);
				// Nothing above 3 Hz: sampled every 10 ms, the second difference of a sine of f Hz is at most (2π·f·10 ms)² of it.
				for (let i = 1; i < 199; i++) {
					expect(Math.abs(piece[i - 1] - 2 * piece[i] + piece[i + 1])).toBeLessThan(0.06 * (2 * Math.PI * 0.03) ** 2);
				}
			}
		}
		const median = (list: number[]): number => list.sort((a, b) => a - b)[list.length >> 1];
		// Check-values H-real as shares of the spans measured with: medians of 0.04–0.6 %, and of 0.24–1.8 % of travel a second.
		expect(median(sways)).toBeGreaterThan(0.0004);
		expect(median(sways)).toBeLessThan(0.006);
		expect(median(drifts)).toBeGreaterThan(0.0024);
		expect(median(drifts)).toBeLessThan(0.018);
		// Fully open is 0.08 at most on this hand.
		expect(median(left)).toBeGreaterThan(0.1);
		expect(Math.max(...left)).toBeLessThan(0.5);
	});
});
