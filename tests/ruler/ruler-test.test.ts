import {linearRegression} from 'simple-statistics';
import {describe, expect, test} from 'vitest';
import {bestLine, judgeRuler, ninePoints, type RulerFigures, type TaperClass} from '../../source/ruler/ruler-test.ts';

/** mulberry32, a public-domain generator: numbers that are the same everywhere. */
function random(seed: number): () => number {
	let state = seed;
	return () => {
		state = (state + 0x6d2b79f5) | 0;
		let t = Math.imul(state ^ (state >>> 15), 1 | state);
		t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
		return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
	};
}

/** Two straight halves, `share` of the resistance at half turn (common practice; check-values P5). */
const audio =
	(share: number) =>
	(x: number): number =>
		x < 0.5 ? 2 * share * x : share + 2 * (1 - share) * (x - 0.5);
/** A track whose wiper is loaded: x / (1 + αx(1 − x)) (check-values P7). */
const loaded =
	(ratio: number) =>
	(x: number): number =>
		x / (1 + ratio * x * (1 - x));
const straight = (x: number): number => x;

/** Specification E's trials: 8 steps of 5 mm, ruler ±0.3 mm, 55–90 % of the track used, out and back twice. */
function trial(pot: (x: number) => number, draw: () => number, lagPercent = 0): RulerFigures {
	const used = 0.55 + 0.35 * draw();
	// A reel keeps off both ends of its track, by a twentieth at least.
	const from = 0.05 + (0.9 - used) * draw();
	const levels: number[] = [];
	const stay = (mark: number, way: 1 | -1): void => {
		const mm = 5 * mark + 0.6 * (draw() - 0.5) - (way * lagPercent * 0.4) / 2;
		levels.push(1023 * pot(from + (used * mm) / 40) + draw() - 0.5);
	};

	for (let round = 0; round < 2; round++) {
		for (let mark = round === 0 ? 0 : 1; mark <= 8; mark++) stay(mark, 1);
		for (let mark = 7; mark >= 0; mark--) stay(mark, -1);
	}

	const figures = judgeRuler(levels, {stepMm: 5, fullScale: 1023, electricalAngleDeg: 270});
	if ('reason' in figures) throw new Error(figures.reason);
	return figures;
}

const trials = (pot: (x: number) => number, count = 400, lag = 0): RulerFigures[] => {
	const draw = random(7);
	return Array.from({length: count}, () => trial(pot, draw, lag));
};
const share = (all: readonly RulerFigures[], taper: TaperClass): number =>
	all.filter(figures => figures.taper === taper).length / all.length;
const sorted = (values: readonly number[]): number[] => [...values].sort((a, b) => a - b);

describe('acceptance of specification E (400 trials each)', () => {
	test('a straight pot: linearity about 0.5 %, ratio 1.00 [0.94…1.07], called a taper never', () => {
		const all = trials(straight);
		const linearity = sorted(all.map(({linearityPercent}) => linearityPercent));
		expect(linearity[200]).toBeGreaterThan(0.2);
		expect(linearity[200]).toBeLessThan(0.7);
		const ratio = sorted(all.map(({slopeRatio}) => slopeRatio));
		expect(ratio[200]).toBeCloseTo(1, 2);
		expect(ratio[10]).toBeGreaterThan(0.93);
		expect(ratio[389]).toBeLessThan(1.08);
		expect(share(all, 'audio taper') + share(all, 'reverse audio taper') + share(all, 'curved')).toBe(0);
	});

	test('audio pots of 15 % and 10 % and reverse ones are called what they are', () => {
		expect(share(trials(audio(0.15)), 'audio taper')).toBeGreaterThanOrEqual(0.99);
		expect(share(trials(audio(0.1)), 'audio taper')).toBeGreaterThanOrEqual(0.99);
		expect(
			share(
				trials(x => 1 - audio(0.15)(1 - x)),
				'reverse audio taper',
			),
		).toBeGreaterThanOrEqual(0.99);
	});

	test('hysteresis of 0, 4 and 10 % comes out within half a percent', () => {
		const medians = [0, 4, 10].map(
			lag => sorted(trials(straight, 100, lag).map(({hysteresisPercent}) => hysteresisPercent!))[50],
		);
		expect(medians[0]).toBeLessThan(0.8);
		expect(Math.abs(medians[1] - 4)).toBeLessThan(0.5);
		expect(Math.abs(medians[2] - 10)).toBeLessThan(0.5);
	});

	test('a loaded wiper of 0.8 % does not stand out from the ruler: it is not named a taper', () => {
		const all = trials(loaded(0.06), 100);
		expect(share(all, 'audio taper') + share(all, 'reverse audio taper') + share(all, 'curved')).toBe(0);
	});
});

test('the diameter of the spool is the geometry of plan turned round: 38.048178 mm over 272.50° is 16.00 mm (check-values H3)', () => {
	// Eight even steps over 272.5° of a 300° track.
	const levels = Array.from({length: 9}, (_, i) => (i / 8) * 1023 * (272.5 / 300));
	const figures = judgeRuler(levels, {stepMm: 38.048178 / 8, fullScale: 1023, electricalAngleDeg: 300}) as RulerFigures;
	expect(figures.spoolDiameterMm).toBeCloseTo(16, 4);
	expect(figures.linearityPercent).toBeCloseTo(0, 9);
	expect(ninePoints(figures)).toEqual(levels.map(level => expect.closeTo(level, 9)));
});

test('the worst of a loaded divider lies where check-values P7 has it', () => {
	// x = ½ with α = 0.1: 0.5 / (1 + 0.1 · 0.25) = 0.4878049.
	expect(loaded(0.1)(0.5)).toBeCloseTo(0.4878049, 7);
});

test('the best line is that of simple-statistics', () => {
	const draw = random(5);
	const points = Array.from({length: 30}, (_, i) => [i + draw(), 3 * i + 10 * draw()]);
	const {m, b} = linearRegression(points);
	const {slope, intercept} = bestLine(
		points.map(([x]) => x),
		points.map(([, y]) => y),
	);
	expect(slope).toBeCloseTo(m, 10);
	expect(intercept).toBeCloseTo(b, 10);
});

test('a second layer of cord is one step of the slope', () => {
	const draw = random(3);
	// A 1 mm cord on a 16 mm spool: from mark 5 on a turn takes 18/16 of the cord, and a step turns it by 16/18.
	const levels: number[] = [];
	let level = 100;
	for (let mark = 0; mark <= 10; mark++) {
		levels.push(level + 0.5 * draw());
		level += mark < 5 ? 60 : (60 * 16) / 18;
	}

	expect(judgeRuler(levels, {stepMm: 5})).toMatchObject({taper: 'second layer'});
});

test('says what to do about too few stays, a skipped mark and the end of the track', () => {
	expect(judgeRuler([100, 200, 300], {stepMm: 5})).toEqual({reason: expect.stringContaining('four marks or more')});
	const skipped = [0, 100, 200, 300, 400, 500, 300, 200, 100, 0];
	expect(judgeRuler(skipped, {stepMm: 5})).toEqual({reason: expect.stringContaining('was skipped')});
	const ended = judgeRuler([300, 450, 600, 750, 900, 1022, 1023, 1023], {stepMm: 5}) as RulerFigures;
	expect(ended.leftOut).toBeGreaterThanOrEqual(1);
});
