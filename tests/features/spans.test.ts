import {describe, expect, it} from 'vitest';
import {Spans} from '../../source/features/spans.ts';
import {StateBlock} from '../../source/features/state-block.ts';
import {type Course, fists, held} from '../gloves/draw.ts';
import {featuresOver} from '../gloves/features-over.ts';
import {runsOf} from './run-of.ts';

// The span of a channel: the range it uses, without lone glitches. A contact's jump lasts 60 ms at most (check-values D5.4).

/** Range of readings at `rate` frames a second in blocks of a quarter second. */
function rangeOf(readings: readonly number[], rate = 100): [low: number, high: number] {
	const spans = new Spans(1, new StateBlock());
	for (const run of runsOf(readings, rate / 4)) spans.take(0, run, rate);
	return [spans.low[0], spans.high[0]];
}
const level = (value: number, frames: number): number[] => Array.from({length: frames}, () => value);

describe('a span', () => {
	it('is 0 before anything was seen, and of one level', () => {
		expect(new Spans(1, new StateBlock()).of(0)).toBe(0);
		expect(rangeOf(level(500, 100))).toEqual([500, 500]);
	});
	it('takes in levels that are held', () => {
		expect(rangeOf([...level(500, 50), ...level(200, 25), ...level(900, 25)])).toEqual([200, 900]);
	});
	it.each([1, 3, 6])('takes no glitch of %i frames at 100/s for an extreme, wherever it lies', frames => {
		for (let at = 0; at < 40; at++) {
			const readings = level(500, 100);
			readings.splice(at + 20, frames, ...level(0, frames));
			expect(rangeOf(readings)).toEqual([500, 500]);
		}
	});
	it('takes in what lasts 0.14 s, wherever it lies', () => {
		for (let at = 0; at < 40; at++) {
			const readings = level(500, 100);
			readings.splice(at + 20, 14, ...level(0, 14));
			expect(rangeOf(readings)).toEqual([0, 500]);
		}
	});
	it('takes no lone reading for one at 20 frames/s either', () => {
		const readings = level(500, 60);
		readings[31] = 0;
		expect(rangeOf(readings, 20)).toEqual([500, 500]);
	});
	it('of a finger that makes fists is what they span, less what quick tips leave out', () => {
		const spanOf = (index: Course) => {
			const features = featuresOver({channels: {index}, seconds: 10, noise: 0});
			return features.percent(features.analog.spans.of(0));
		};
		expect(spanOf(fists({open: 20, closed: 75, times: 3}))).toBeCloseTo(55, 0);
		expect(spanOf(held(40))).toBe(0);
	});
});
