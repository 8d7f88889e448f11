import {describe, expect, test} from 'vitest';
import {minimumJerk} from '../../source/simulator/axis.ts';
import type {GloveSpec} from '../../source/simulator/glove.ts';
import {Motion} from '../../source/simulator/movement.ts';
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
