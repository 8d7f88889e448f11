import {mean, probit} from 'simple-statistics';
import {describe, expect, test} from 'vitest';
import type {Layout} from '../../source/framing/layout.ts';
import {type AccountOptions, LinkAccountant} from '../../source/link/link-account.ts';
import {LowerHull} from '../../source/link/lower-hull.ts';
import {wilson95} from '../../source/link/wilson.ts';
import {mulberry} from '../math/mulberry.ts';
import {delayErrors, skews} from './drawn-walk.ts';
import {accountOfW, hasMawk} from './generator-w.ts';
import {linkLayout} from './link-layout.ts';

function accountant(options: Partial<AccountOptions> = {}, own: Layout = linkLayout): LinkAccountant {
	const made = new LinkAccountant({windowSeconds: 20, isTimed: true, ...options});
	made.layout(own);
	return made;
}

describe.skipIf(!hasMawk)(
	`generator W${hasMawk ? '' : ' (skipped: no mawk 1.3.4 here, whose random numbers give its figures)'}`,
	() => {
		test('loses 4.17 % as a whole, 21.3 % in the worst 20 s from 140 s on, nothing in the first 20 s (specification C)', () => {
			const {whole, worst, windows, lossBy} = accountOfW();
			expect(lossBy).toBe('counter');
			expect(whole.lost + whole.frames).toBe(18_000);
			expect(whole.lostPercent).toBeCloseTo(4.17, 2);
			expect(worst).toMatchObject({from: 140, to: 160});
			expect(worst!.lostPercent).toBeCloseTo(21.3, 1);
			expect(windows[0]).toMatchObject({from: 0, lost: 0, lostPercent: 0});
		});
	},
);

describe('delay beyond the best (specification C, acceptance)', () => {
	test.each(skews)('skew %d ppm comes out, and delays within the step of the clock', skew => {
		const {skewOffPpm, medianMs, p95Ms, windowsMs} = delayErrors(skew, 11);
		// A step of the clock over the length of the hull: 1 ms in 300 s is 3.3 ppm.
		expect(Math.abs(skewOffPpm)).toBeLessThan(3.4);
		expect(medianMs).toBeLessThanOrEqual(0.5);
		expect(p95Ms).toBeLessThanOrEqual(0.99);
		expect(windowsMs).toHaveLength(6);
		expect(Math.max(...windowsMs)).toBeLessThanOrEqual(0.7);
	});

	test('a clock that warms up is followed: ten minutes have a line of their own, live and in a log alike', () => {
		const account = accountant();
		// 50 min in which the clock's speed goes from 0 to 40 millionths: 60 ms over a single line.
		let arrival = 0;
		for (let n = 0; n < 30_000; n++) {
			const t = n / 10;
			arrival = t + (20e-6 * t * t) / 3000 + (n % 5) * 0.001;
			account.frame(arrival, Float64Array.of(n, Math.floor(t * 1000), 1, 1, 1, 1, 1, 0));
		}

		const {windows} = account.account(arrival);
		// The bend that is left in ten minutes: 20e-6 / 3000 · 300² s, and 4 ms of delay.
		expect(Math.max(...windows.map(({delayMs}) => delayMs!.p95))).toBeLessThan(4 + 0.6 + 1);
		const now = account.stretchNow(2980, 3000);
		expect(now.delayMs!.p95).toBeCloseTo(windows[149].delayMs!.p95, 1);
		expect(now.frames).toBe(windows[149].frames);
	});

	test('a clock that starts again begins a line of its own', () => {
		const account = accountant();
		for (let n = 0; n < 2000; n++) {
			const t = n / 100;
			account.frame(
				t + (n % 3) * 0.002,
				Float64Array.of(n, n < 1000 ? 10 * n + 50_000 : 10 * (n - 1000), 1, 1, 1, 1, 1, 0),
			);
		}

		const {whole} = account.account(20);
		expect(whole.delayMs!.p99).toBeLessThan(5.1);
	});

	test.each([2 ** 16, 2 ** 32])('a clock that wraps at %d goes on (check-values U19)', wrap => {
		const account = accountant();
		for (let n = 0; n < 2000; n++)
			account.frame(n / 100 + (n % 3) * 0.002, Float64Array.of(n, (wrap - 10_000 + 10 * n) % wrap, 1, 1, 1, 1, 1, 0));
		const {whole, skewPpm} = account.account(20);
		expect(whole.delayMs!.p99).toBeLessThan(4.1);
		expect(Math.abs(skewPpm!)).toBeLessThan(1);
	});

	test('without a clock only the time between frames is told, and it says so', () => {
		const channels = linkLayout.channels
			.filter(({role}) => role !== 'clock')
			.map((channel, index) => ({...channel, index}));
		const account = accountant({}, {...linkLayout, channels});
		for (let n = 0; n < 500; n++) account.frame(n / 50, Float64Array.of(n, 1, 1, 1, 1, 1, 0));
		const {whole, skewPpm, notes} = account.account(10);
		expect([whole.delayMs, skewPpm]).toEqual([null, null]);
		expect(notes.join(' ')).toContain('a delay that stays the same cannot be seen');
	});
});

describe('the lower hull', () => {
	test('keeps the corners that are lowest, also where points share an x', () => {
		const hull = new LowerHull();
		for (const [x, y] of [
			[0, 2],
			[0, 1],
			[1, 3],
			[2, 0.5],
			[3, 4],
			[4, 1],
			[5, 2],
		])
			hull.add(x, y);
		// By hand: (1, 3) and (3, 4) lie above, and from (2, 0.5) the slopes rise: 0.25, then 1.
		expect(hull.corners).toEqual([
			[0, 1],
			[2, 0.5],
			[4, 1],
			[5, 2],
		]);
		// The mean of x is 15/7 = 2.14: the edge from 2 to 4, slope 0.25.
		expect(hull.line()).toEqual({slope: 0.25, intercept: 0});
	});

	test('has the corners that SciPy finds', () => {
		// SciPy 1.17.1, ConvexHull of (i, y), the corners of its facets that face down: 0, 5, 12, 13, 15.
		const y = [
			5, 7.824, 7.87, 7.136, 7.064, 6.897, 9.775, 9.961, 10.16, 9.59, 9.519, 11.296, 10.073, 10.706, 12.019, 12.29,
		];
		const hull = new LowerHull();
		for (const [i, each] of y.entries()) hull.add(i, each);
		expect(hull.corners.map(([x]) => x)).toEqual([0, 5, 12, 13, 15]);
	});

	test('no point lies below its line (by its definition), whatever the points are', () => {
		const draw = mulberry(3);
		for (let round = 0; round < 50; round++) {
			const points = Array.from({length: 40}, (_, i) => [i + draw(), draw() + 0.01 * i] as const);
			const hull = new LowerHull();
			for (const [x, y] of points) hull.add(x, y);
			const {slope, intercept} = hull.line()!;
			for (const [x, y] of points) expect(y - slope * x - intercept).toBeGreaterThan(-1e-12);
			expect(points.filter(([x, y]) => y - slope * x - intercept < 1e-9).length).toBeGreaterThanOrEqual(2);
		}
	});
});

describe('losses', () => {
	test('the interval of 5 in 600 is that of Wilson, by the normal quantile of simple-statistics', () => {
		const z = probit(0.975);
		const [p, n] = [5 / 600, 600];
		const middle = (p + (z * z) / (2 * n)) / (1 + (z * z) / n);
		const half = (z / (1 + (z * z) / n)) * Math.sqrt((p * (1 - p)) / n + (z * z) / (4 * n * n));
		const [low, high] = wilson95(5, 600);
		// That quantile is good to 3 digits.
		expect(low).toBeCloseTo(middle - half, 4);
		expect(high).toBeCloseTo(middle + half, 4);
		expect(wilson95(0, 0)).toEqual([0, 1]);
	});

	test('the mean burst of a two-state channel is 1/p(bad→good) (Gilbert 1960)', () => {
		const draw = mulberry(5);
		const account = accountant();
		let isBad = false;
		for (let n = 0; n < 60_000; n++) {
			isBad = isBad ? draw() >= 0.25 : draw() < 0.01;
			if (!isBad) account.frame(n / 100, Float64Array.of(n, 10 * n, 1, 1, 1, 1, 1, 0));
		}

		const {whole} = account.account(600);
		expect(whole.meanBurst).toBeGreaterThan(3.6);
		expect(whole.meanBurst).toBeLessThan(4.4);
	});

	test('without a counter losses are estimated, and frames that were only late are none', () => {
		const channels = linkLayout.channels.slice(2).map((channel, index) => ({...channel, index}));
		const account = accountant({}, {...linkLayout, channels});
		const draw = mulberry(9);
		let last = 0;
		let lost = 0;
		for (let n = 0; n < 6000; n++) {
			if (n > 10 && draw() < 0.02) {
				lost++;
				continue;
			}

			last = Math.max(last + 0.0005, n / 60 + 0.004 * draw() + (draw() < 0.02 ? 0.03 : 0));
			account.frame(last, Float64Array.of(1, 1, 1, 1, 1, 0));
		}

		const {whole, lossBy, notes} = account.account(100);
		expect(lossBy).toBe('spacing');
		expect(Math.abs(whole.lost - lost)).toBeLessThan(0.15 * lost);
		expect(notes.join(' ')).toContain('an estimate');
	});

	test('an 8-bit counter wraps: 250 to 3 has lost 8 (check-values U18)', () => {
		const account = accountant();
		let n = 0;
		for (const counter of [...Array.from({length: 251}, (_, i) => i), ...Array.from({length: 100}, (_, i) => i + 3)])
			account.frame(n++ / 100, Float64Array.of(counter, 10 * n, 1, 1, 1, 1, 1, 0));
		expect(account.account(3.5).whole.lost).toBe(8);
	});
});

describe('marks', () => {
	const fists = (at: readonly number[], press: readonly number[] = []): LinkAccountant => {
		const account = accountant();
		for (let n = 0; n < 6000; n++) {
			const t = n / 100;
			const closed = at.some(from => t >= from && t < from + 0.35);
			const level = closed ? 800 : 300;
			const pressed = press.some(from => t >= from && t < from + 0.1) ? 1 : 0;
			account.frame(t, Float64Array.of(n, 10 * n, level, level + 5, 1023 - level, level, level, pressed));
		}

		return account;
	};

	test('three quick fists are a mark, one is none, and five are none', () => {
		const {marks, markedBy} = fists([5, 10, 10.7, 11.4, 20, 30, 30.6, 31.2, 40, 40.6, 41.2, 41.8, 42.4]).account(60);
		expect(markedBy).toBe('three quick fists');
		expect(marks.map(t => Math.round(10 * t) / 10)).toEqual([10, 30]);
	});

	test('presses of a button are the marks where there are any, and stretches go from press to press', () => {
		const {marks, markedBy, stretches} = fists([10, 10.7, 11.4], [15, 40]).account(60);
		expect(markedBy).toBe('button-1');
		expect(marks).toEqual([15, 40]);
		expect(stretches.map(({from, to, mark}) => [from, Math.round(to), mark])).toEqual([
			[0, 15, null],
			[15, 40, '1'],
			[40, 60, '2'],
		]);
		expect(mean(stretches.map(({frames}) => frames))).toBe(2000);
	});

	test('one mark makes no stretch, and that is said', () => {
		const {notes, stretches, windows} = fists([], [15]).account(60);
		expect(stretches).toBe(windows);
		expect(notes).toContain('One mark makes no stretch: the table is by time.');
	});
});

test('a gap of 200 ms and five intervals is an outage; half a second makes the stretch bad', () => {
	const account = accountant({windowSeconds: 10});
	let t = 0;
	for (let n = 0; n < 3000; n++) {
		t += n === 500 ? 0.3 : n === 1500 ? 0.7 : 0.01;
		account.frame(t, Float64Array.of(n, Math.round(1000 * t), 1, 1, 1, 1, 1, 0));
	}

	const {whole, windows} = account.account(t);
	expect([whole.outages, Math.round(whole.longestOutageMs!), whole.verdict]).toEqual([2, 700, 'bad']);
	// Of the last second come 99 frames.
	expect(windows.map(({verdict}) => verdict)).toEqual(['weak', 'bad', 'good', 'unproven']);
});
