import {describe, expect, it} from 'vitest';
import {type Course, type Drawing, fists, held, sessionOver, sum, through} from '../gloves/draw.ts';
import {featuresOver} from '../gloves/features-over.ts';

// Check-values D2, proven: there and back at least twice by ≥ 12 rest noises and ≥ 0.3 of the median span of the other proven
// fingers (none yet: 3 % FS), no excess noise, and no ghost of the channel before it in scan order.

const names = ['thumb', 'index', 'middle', 'ring', 'little'] as const;

/** Which channels are proven in the end. */
function proven(drawing: Omit<Drawing, 'seconds'>, seconds = 30): string[] {
	const {features} = sessionOver({...drawing, seconds});
	return Object.keys(drawing.channels).filter((_, a) => features.proven[a] === 1);
}
/** Each finger alone, `times` there and back, one after the other; percent of full scale by finger. */
function alone(spans: readonly number[], times: number): Record<string, Course> {
	return Object.fromEntries(
		spans.map((span, f) => [names[f], fists({open: 20, closed: 20 + span, times, from: 1 + f * times * 2})]),
	);
}
/** An open pin's copy of another channel. */
const ghostOf =
	(course: Course, gain: number): Course =>
	t =>
		12 + gain * course(t);

describe('a finger is proven', () => {
	it('once it has gone there and back twice by itself', () => {
		expect(proven({channels: alone([50, 50, 50], 2)})).toEqual(['thumb', 'index', 'middle']);
	});
	it('not by one time and a half', () => {
		const half = through([1, 20], [1.4, 70], [2, 70], [2.4, 20], [3, 20], [3.4, 70]);
		expect(proven({channels: {thumb: half, index: held(30)}}, 8)).toEqual([]);
	});
	it('by 3 % FS where no other is, not by 2', () => {
		expect(
			proven(
				{channels: {thumb: fists({open: 20, closed: 23.6, times: 3}), index: held(30)}, noise: 0.03, fullScale: 4095},
				10,
			),
		).toEqual(['thumb']);
		expect(
			proven(
				{channels: {thumb: fists({open: 20, closed: 22, times: 3}), index: held(30)}, noise: 0.03, fullScale: 4095},
				10,
			),
		).toEqual([]);
	});
	it('by 12 rest noises, not by 10: tips of noise add some six to a way', () => {
		const thumb = (closed: number) => ({
			channels: {thumb: fists({open: 20, closed, times: 3}), index: held(30)},
			noise: 1,
		});
		expect(proven(thumb(20 + 16), 10)).toEqual(['thumb']);
		expect(proven(thumb(20 + 4), 10)).toEqual([]);
	});
	it('by 0.3 of the median span of the other proven ones: by 36 % of it, not by 25', () => {
		expect(proven({channels: alone([50, 50, 50, 18], 2)})).toEqual(['thumb', 'index', 'middle', 'ring']);
		expect(proven({channels: alone([50, 50, 50, 12.5], 2)})).toEqual(['thumb', 'index', 'middle']);
	});
	it('and stays so when wider neighbours come later', () => {
		expect(proven({channels: alone([12, 60, 60, 60], 2)})).toEqual(['thumb', 'index', 'middle', 'ring']);
	});
	it('though all move as one: two trips off the best copy of the channel before are enough', () => {
		// Each finger has its own pace.
		const channels = Object.fromEntries(
			names.map((name, f) => [name, fists({open: 20, closed: 70, times: 3, way: 0.3 + 0.1 * f})]),
		);
		expect(proven({channels}, 10)).toEqual([...names]);
	});
});

describe('a ghost is not proven', () => {
	const thumb = fists({open: 20, closed: 75, times: 6});
	it.each([0.35, 0.6, 0.95])('that copies the channel before it with a gain of %f', gain => {
		expect(proven({channels: {thumb, index: ghostOf(thumb, gain), middle: ghostOf(thumb, gain * gain)}}, 15)).toEqual([
			'thumb',
		]);
	});
	it('of a finger that rests: it is as quiet as the finger, and quiet proves nothing', () => {
		expect(proven({channels: {thumb: held(30), index: held(24)}}, 15)).toEqual([]);
	});
	it('until it has moved there and back once while the channel before it rests', () => {
		const later = fists({open: 0, closed: 30, times: 4, from: 14});
		const channels = {thumb, index: sum(ghostOf(thumb, 0.5), later)};
		expect(proven({channels}, 14)).toEqual(['thumb']);
		expect(proven({channels}, 26)).toEqual(['thumb', 'index']);
	});
	it('and one way alone is no proof', () => {
		const up = through([14, 0], [14.4, 30]);
		expect(proven({channels: {thumb, index: sum(ghostOf(thumb, 0.5), up)}}, 18)).toEqual(['thumb']);
	});
	it('for what the channel before goes along by less than 5 % of the way', () => {
		// Index is moved; thumb is pulled along by a twentieth less a little, or by a tenth.
		const index = fists({open: 20, closed: 70, times: 2});
		const pulled =
			(share: number): Course =>
			t =>
				30 + share * (index(t) - 20);
		expect(proven({channels: {thumb: pulled(0.03), index}}, 8)).toContain('index');
	});
});

describe('what a channel does by itself', () => {
	const worked = fists({open: 20, closed: 70, times: 3});
	const isItself = (index: Course): boolean =>
		featuresOver({channels: {thumb: worked, index}, seconds: 12}).proof.isItselfAside(1);

	it('is nothing that goes along with the channel before it, and is what that one makes no trip in', () => {
		expect(isItself(ghostOf(worked, 0.6))).toBe(false);
		expect(isItself(sum(ghostOf(worked, 0.6), fists({open: 0, closed: 30, times: 1, from: 8})))).toBe(true);
	});

	it('is told in ways since a time, of which a tremor of 12 Hz is none, however far it goes', () => {
		const shaking: Course = t => 20 + (t < 8 ? 0 : 10 * Math.sin(2 * Math.PI * 12 * (t - 8)));
		const thumb: Course = t => (t < 8 ? worked(t) : shaking(t));
		const {proof} = featuresOver({channels: {thumb, index: held(30)}, seconds: 9.5});
		// Closings at 1, 3 and 5 s, openings a second later each.
		expect([0, 2.2, 4.2, 7].map(since => proof.waysSince(0, since))).toEqual([6, 4, 2, 0]);
	});
});
