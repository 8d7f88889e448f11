import {describe, expect, test} from 'vitest';
import type {GloveSpec} from '../../source/simulator/glove.ts';
import {Motion, minimumJerk} from '../../source/simulator/movement.ts';
import {Random} from '../../source/simulator/random.ts';
import {parseScript} from '../../source/simulator/script-text.ts';
import {benchSpec} from './bench.ts';

function still(glove: GloveSpec): GloveSpec {
	return {...glove, hand: {...glove.hand, tremorShare: 0, swayShare: 0}};
}

function trace(script: string, finger: number, seconds: number, step = 0.005): number[] {
	const motion = new Motion(still(benchSpec([]).glove), parseScript(script), new Random(3));
	return Array.from({length: Math.round(seconds / step)}, (_, i) => motion.finger(finger, i * step));
}

/** Rising crossings of `level`. */
function rises(values: readonly number[], level: number): number {
	return values.filter((value, i) => i > 0 && values[i - 1] < level && value >= level).length;
}

describe('minimumJerk', () => {
	test('starts and ends at rest and peaks at 1.875 ways per duration', () => {
		// d/dp of 10p³ − 15p⁴ + 6p⁵ is 30p²(1 − p)², at p = ½: 30/16 = 1.875.
		const step = 1e-4;
		let peak = 0;
		for (let p = 0; p < 1; p += step) peak = Math.max(peak, (minimumJerk(p + step) - minimumJerk(p)) / step);
		expect(peak).toBeCloseTo(1.875, 4);
		expect([minimumJerk(-1), minimumJerk(0), minimumJerk(0.5), minimumJerk(1), minimumJerk(2)]).toEqual([
			0, 0, 0.5, 1, 1,
		]);
	});
});

describe('Motion', () => {
	test('closes the whole hand as often as the script says, every finger deep and back', () => {
		for (let finger = 0; finger < 5; finger++) {
			const values = trace('rest 1s, fist 4x, rest 60s', finger, 20);
			expect(rises(values, 0.5)).toBe(4);
			expect(Math.max(...values)).toBeGreaterThan(0.75);
			expect(values[values.length - 1]).toBeLessThan(0.15);
		}
	});

	test('a finger moved alone takes its neighbours along by 40 % at most, the far thumb hardly', () => {
		const ring = trace('ring 3x, rest 60s', 3, 8);
		const span = Math.max(...ring) - Math.min(...ring);
		for (const [finger, most] of [
			[2, 0.5],
			[4, 0.5],
			[0, 0.15],
		] as const) {
			const values = trace('ring 3x, rest 60s', finger, 8);
			// Coupling is at most 40 %, each movement up to a fifth more (check-values H24), plus the scatter of the open position.
			expect((Math.max(...values) - Math.min(...values)) / span).toBeLessThan(most);
		}
	});

	test('a reel that is pulled moves nothing else', () => {
		for (let finger = 0; finger < 5; finger++) {
			const values = trace('pull ring 3x, rest 60s', finger, 12);
			if (finger === 3) expect(rises(values, 0.5)).toBe(3);
			else expect(Math.max(...values) - Math.min(...values)).toBe(0);
		}
	});

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

	test('taps at the pace of fast tapping, below seven a second', () => {
		// Adults tap 5–7 times a second at most (check-values H12).
		const values = trace('tap index 20x, rest 60s', 1, 12);
		const floor = Math.min(...values);
		const top = Math.max(...values);
		expect(rises(values, floor + 0.4 * (top - floor))).toBe(20);
		const moving = values.findLastIndex(value => value > floor + 0.4 * (top - floor)) * 0.005;
		expect(20 / moving).toBeGreaterThan(3);
		expect(20 / moving).toBeLessThan(7);
	});

	test('starts the script over when it is done, and never twice the same', () => {
		const values = trace('rest 0.5s, fist 1x', 2, 40);
		expect(rises(values, 0.4)).toBeGreaterThan(12);
	});

	test('the stick reaches its gate on the way round and comes home', () => {
		const motion = new Motion(benchSpec([]).glove, parseScript('rest 0.5s, stick around 2x, rest 60s'), new Random(8));
		const radii: number[] = [];
		for (let t = 0; t < 8; t += 0.01) radii.push(Math.hypot(motion.stickX(t), motion.stickY(t)));
		expect(Math.max(...radii)).toBeGreaterThan(0.97);
		expect(radii[radii.length - 1]).toBeLessThan(0.03);
	});

	test('presses a button as often as asked, each at least 60 ms long', () => {
		const motion = new Motion(benchSpec([]).glove, parseScript('press button-2 6x, rest 60s'), new Random(8));
		const lengths: number[] = [];
		let down = 0;
		for (let t = 0; t < 8; t += 0.001) {
			if (motion.pressedFor(1, t) !== undefined) down++;
			else if (down > 0) {
				lengths.push(down);
				down = 0;
			}
		}
		expect(lengths).toHaveLength(6);
		expect(Math.min(...lengths)).toBeGreaterThan(60);
	});

	test('no movement outruns a hand', () => {
		// A full-span sine at 7 Hz moves 21.991 spans a second at most (check-values H15).
		for (const script of ['fast fist 10x', 'tap index 20x', 'play 20s', 'each 2x']) {
			const values = trace(script, 1, 15);
			const fastest = Math.max(...values.slice(1).map((value, i) => Math.abs(value - values[i]) / 0.005));
			expect(fastest).toBeLessThan(21.991);
		}
	});
});
