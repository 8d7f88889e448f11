import {expect, test} from 'vitest';
import {Plateaus} from '../../source/ruler/plateaus.ts';
import {mulberry} from '../math/mulberry.ts';
import {normal} from './trials.ts';

const marks = 9;

/** Stays of 1.2 s at nine marks with ways of half a second between; the hand that holds the cord sways. */
function stays(rate: number, noise: number, sway: number, seed: number): number {
	const draw = mulberry(seed);
	const plateaus = new Plateaus(Math.max(0.3, noise), 1023);
	let t = 0;
	const push = (level: number): void => {
		plateaus.push(t, Math.round(level + noise * normal(draw)));
		t += 1 / rate;
	};

	for (let mark = 0; mark < marks; mark++) {
		for (let i = 0; i < 1.2 * rate; i++) push(100 + 80 * mark + sway * Math.sin(2 * Math.PI * 0.7 * t + seed));
		for (let i = 1; i < 0.5 * rate; i++) push(100 + 80 * (mark + i / (0.5 * rate)));
	}

	return plateaus.all.length;
}

const seeds = Array.from({length: 20}, (_, i) => i);

test.each([30, 50, 100, 300])('finds every stay of a second at %i frames/s, quiet or noisy', rate => {
	for (const noise of [0.3, 1, 3]) {
		const found = seeds.map(seed => stays(rate, noise, 0, seed));
		expect(found, String(noise)).toEqual(seeds.map(() => marks));
	}
});

test('a hand that sways by two counts is still enough, also on a reel that is quieter than that', () => {
	const right = seeds.filter(seed => stays(100, 0.3, 2, seed) === marks).length;
	expect(right).toBeGreaterThanOrEqual(18);
});

test('a cord on its way makes no stay', () => {
	const plateaus = new Plateaus(1, 1023);
	for (let i = 0; i < 500; i++) plateaus.push(i / 100, 100 + 1.5 * i);
	expect(plateaus.all).toEqual([]);
});
