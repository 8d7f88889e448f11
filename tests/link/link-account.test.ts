import {spawnSync} from 'node:child_process';
import {mean, probit} from 'simple-statistics';
import {describe, expect, test} from 'vitest';
import type {Layout} from '../../source/framing/layout.ts';
import {type AccountOptions, LinkAccountant} from '../../source/link/link-account.ts';
import {LowerHull} from '../../source/link/lower-hull.ts';
import {wilson95} from '../../source/link/wilson.ts';

const layout: Layout = {
	framing: 'text',
	separator: ',',
	labelled: true,
	checksum: null,
	unit: null,
	channels: [
		{index: 0, name: 'counter', role: 'counter'},
		{index: 1, name: 'clock', role: 'clock', clockUnitSeconds: 0.001},
		...['thumb', 'index', 'middle', 'ring', 'little'].map((name, i) => ({index: 2 + i, name, role: 'finger'}) as const),
		{index: 7, name: 'button-1', role: 'button'},
	],
};

function accountant(options: Partial<AccountOptions> = {}, own: Layout = layout): LinkAccountant {
	const made = new LinkAccountant({windowSeconds: 20, isTimed: true, ...options});
	made.layout(own);
	return made;
}

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

/** Specification C's generator W, word for word. */
const generatorW =
	'BEGIN{srand(3);for(n=0;n<18000;n++){t=n/60;d=1+19*(1-(t>150?t-150:150-t)/150);p=.0005*exp(d/3.2);w=.008-.004*log(1-rand());if(rand()<2*p)w+=.08*rand();if(rand()<p)continue;a=t+w;if(a<l+.0002)a=l+.0002;l=a;s=300*sin(2*t);printf "%.4f %d,%d,%d,%d,%d,%d,%d,511,511,0,0\\n",a,n,t*1000,500+s,510+s,520+.9*s,480+s,490+.95*s}}';
const version = spawnSync('mawk', ['-W', 'version'], {encoding: 'utf8'});
const hasMawk = version.stdout?.startsWith('mawk 1.3.4') === true;

describe.skipIf(!hasMawk)(
	`generator W${hasMawk ? '' : ' (skipped: no mawk 1.3.4 here, whose random numbers give its figures)'}`,
	() => {
		test('loses 4.17 % as a whole, 21.3 % in the worst 20 s from 140 s on, nothing in the first 20 s (specification C)', () => {
			const {stdout} = spawnSync('mawk', [generatorW], {encoding: 'utf8', maxBuffer: 2 ** 24});
			const account = accountant();
			for (const line of stdout.trimEnd().split('\n')) {
				const [t, ...values] = line.split(/[ ,]/).map(Number);
				account.frame(t, Float64Array.from(values));
			}

			const {whole, worst, windows, lossBy} = account.account(300);
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
	// 300 s at 60/s with a clock of 1 ms; delays as generator W draws them, p95 of a 50 s window between 13 and 69 ms.
	const cases = [0, 5000, -3000];
	test.each(cases)('skew %d ppm comes out, and delays within the step of the clock', skew => {
		const draw = random(11);
		const account = accountant({windowSeconds: 50});
		const truth: number[] = [];
		const arrivals: number[] = [];
		let last = 0;
		for (let n = 0; n < 18_000; n++) {
			const t = n / 60;
			const p = 0.0005 * Math.exp((1 + 19 * (1 - Math.abs(t - 150) / 150)) / 3.2);
			let way = 0.008 - 0.004 * Math.log(1 - draw());
			if (draw() < 2 * p) way += 0.08 * draw();
			// A board's clock that is slow by so many millionths: arrivals run away from it.
			const arrival = Math.max(t * (1 + skew / 1e6) + way, last + 0.0002);
			last = arrival;
			arrivals.push(arrival);
			truth.push(arrival - t * (1 + skew / 1e6));
			account.frame(arrival, Float64Array.of(n, Math.floor(t * 1000), 1, 1, 1, 1, 1, 0));
		}

		const {skewPpm, windows} = account.account(arrivals[arrivals.length - 1]);
		// A step of the clock over the length of the hull: 1 ms in 300 s is 3.3 ppm.
		expect(Math.abs(skewPpm! - skew)).toBeLessThan(3.4);
		const best = Math.min(...truth);
		for (const {from, to, delayMs} of windows.slice(0, 6)) {
			const own = truth.filter((_, i) => arrivals[i] >= from && arrivals[i] < to).sort((a, b) => a - b);
			const p95 = 1000 * (own[Math.floor(0.95 * own.length)] - best);
			expect(Math.abs(delayMs!.p95 - p95)).toBeLessThan(1);
		}
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

	test('without a clock only the time between frames is told, and it says so', () => {
		const channels = layout.channels
			.filter(({role}) => role !== 'clock')
			.map((channel, index) => ({...channel, index}));
		const account = accountant({}, {...layout, channels});
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

	test('no point lies below its line (by its definition), whatever the points are', () => {
		const draw = random(3);
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
		const draw = random(5);
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
		const channels = layout.channels.slice(2).map((channel, index) => ({...channel, index}));
		const account = accountant({}, {...layout, channels});
		const draw = random(9);
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
