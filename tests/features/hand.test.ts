import {describe, expect, it, test} from 'vitest';
import type {Features} from '../../source/features/features.ts';
import {Random} from '../../source/simulator/random.ts';
import {type Course, type Drawing, fists, held, readings, through} from '../gloves/draw.ts';
import {featuresOf, featuresOver, takeIn} from '../gloves/features-over.ts';
import {plainMovements} from './plain-reading.ts';

// Check-values D2, whole-hand movement: seen from one finger, at least three others and 60 % of them set out within 0.6 s, each in
// the sense of its own first such movement, each ≥ 40 % of its own span and ≥ 45 % of the widest.

const names = ['thumb', 'index', 'middle', 'ring', 'little'] as const;
const fist: Course = fists({open: 20, closed: 75, times: 3});
/** The same with two seconds between closing and opening, so that one of them may come late. */
const slow = fists({open: 20, closed: 75, times: 4, period: 4});
const later =
	(course: Course, seconds: number): Course =>
	t =>
		course(t - seconds);

/** Five fingers that make three fists, but for those that are named. */
function hand(others: Partial<Record<(typeof names)[number], Course>> = {}, seconds = 9): Drawing {
	return {channels: Object.fromEntries(names.map(name => [name, others[name] ?? fist])), seconds};
}

/** Closings (+1) and openings (−1) seen from each finger, in order. */
function waysIn(features: Features, number = 0): number[][] {
	const {[number]: seen} = features.hands;
	return seen.fingers.map(f => Array.from({length: seen.count[f]}, (_, k) => seen.way[seen.at(f, k)]));
}

const threeFists = [1, -1, 1, -1, 1, -1];

describe('whole-hand movements', () => {
	it('are seen from every finger when all close and open', () => {
		expect(waysIn(featuresOver(hand()))).toEqual([threeFists, threeFists, threeFists, threeFists, threeFists]);
	});

	it('set out when the first of the others has gone a tenth and are over when the last has gone nine tenths', () => {
		const features = featuresOver({...hand({index: later(fist, 0.2), middle: later(fist, 0.3)}), noise: 0});
		const [seen] = features.hands;
		// A tenth of a way of 0.4 s is gone after 0.247 × 0.4 = 0.099 s, nine tenths after 0.301 s.
		const place = seen.at(1, 0);
		expect(seen.outAt[place]).toBeCloseTo(1.09, 5);
		expect(seen.inAt[place]).toBeCloseTo(1.61, 5);
		expect(seen.members[place]).toBe(0b11101);
		expect(seen.outAt[seen.at(0, 0)]).toBeCloseTo(1.09, 5);
	});

	it('are none where two of five are late: two others are too few', () => {
		// The first fist is made together, so that all are known to move; the others are not.
		const late: Course = t => (t < 4 ? slow(t) : slow(t - 0.8));
		const drawing = {
			...hand({ring: late, little: late}, 19),
			channels: {thumb: slow, index: slow, middle: slow, ring: late, little: late},
		};
		// From ring: thumb, index and middle are three others. From thumb: index and middle.
		expect(waysIn(featuresOver(drawing)).map(ways => ways.length)).toEqual([2, 2, 2, 8, 8]);
	});

	it('are seen where four of five move, from the fifth, and from each of the four', () => {
		expect(waysIn(featuresOver(hand({ring: held(40)}))).map(ways => ways.length)).toEqual([6, 6, 6, 6, 6]);
	});

	it('need both others with three wired fingers in all, and are none with two', () => {
		const three: Drawing = {channels: {thumb: fist, index: fist, middle: fist}, seconds: 9};
		expect(waysIn(featuresOver(three))).toEqual([threeFists, threeFists, threeFists]);
		const late: Drawing = {
			channels: {thumb: slow, index: slow, middle: t => (t < 4 ? slow(t) : slow(t - 0.8))},
			seconds: 19,
		};
		expect(waysIn(featuresOver(late)).map(ways => ways.length)).toEqual([2, 2, 8]);
		const two: Drawing = {channels: {thumb: fist, index: fist}, seconds: 9};
		expect(waysIn(featuresOver(two))).toEqual([[], []]);
	});

	it.each([
		[0.55, 6],
		[0.66, 0],
	])('set out within 0.6 s of each other: three others spread over %f s make %i', (seconds, count) => {
		const spread = {index: later(fist, seconds / 2), middle: later(fist, seconds), ring: held(30)};
		// Seen from little: thumb, index, middle, and ring which rests.
		expect(waysIn(featuresOver(hand(spread, 10)))[4]).toHaveLength(count);
	});

	it('ask 45 % of the widest span of each: thumbs of 47 % take part, of 43 % do not', () => {
		const thumbOf = (share: number) => fists({open: 20, closed: 20 + share * 55, times: 3});
		const members = (features: Features) => features.hands[0].members[features.hands[0].at(4, 2)] & 1;
		expect(members(featuresOver(hand({thumb: thumbOf(0.47)})))).toBe(1);
		expect(members(featuresOver(hand({thumb: thumbOf(0.43)})))).toBe(0);
	});

	it('ask 40 % of its own span of each: a finger that goes half as far later takes part, a third as far does not', () => {
		const once = (share: number): Course =>
			through([1, 20], [1.4, 95], [2, 95], [2.4, 20], [3, 20], [3.4, 20 + share * 75], [4, 20 + share * 75], [4.4, 20]);
		const members = (share: number): number => {
			const [seen] = featuresOver(hand({index: once(share), middle: fists({open: 20, closed: 60, times: 3})})).hands;
			return (seen.members[seen.at(4, 2)] >> 1) & 1;
		};
		expect([members(0.5), members(0.33)]).toEqual([1, 0]);
	});

	it('are closings in the sense of the first, whichever way a reading goes then', () => {
		const falls = fists({open: 80, closed: 25, times: 3});
		const features = featuresOver(hand({index: falls, ring: falls}));
		expect([...features.hands[0].sense]).toEqual([1, -1, 1, -1, 1]);
		expect(waysIn(features)[0]).toEqual(threeFists);
	});

	it('do not take in a finger that goes the other way this time', () => {
		// Index lies half-way after the first fist and points: it opens while the others close.
		const index = through([1, 20], [1.4, 75], [3, 75], [3.4, 20], [4, 20], [4.3, 70], [5, 70], [5.4, 20]);
		const [seen] = featuresOver({
			...hand(),
			channels: {thumb: slow, index, middle: slow, ring: slow, little: slow},
		}).hands;
		expect(seen.members[seen.at(4, 0)]).toBe(0b1111);
		expect(seen.outAt[seen.at(4, 2)]).toBeCloseTo(5.1, 1);
		expect(seen.members[seen.at(4, 2)]).toBe(0b1101);
	});

	it('take in a finger again that went the other way only in its first, once three in a row have shown it', () => {
		const many = fists({open: 20, closed: 75, times: 4, period: 4});
		const first: Course = t => (t < 2 ? 95 - many(t) : many(t));
		const channels = {thumb: many, index: many, middle: many, ring: many, little: first};
		const takesPart = (seconds: number) => {
			const [seen] = featuresOver({channels, seconds}).hands;
			const members = Array.from({length: seen.count[0]}, (_, k) => seen.members[seen.at(0, k)]);
			return members.map(bits => (bits & 0b10000) !== 0);
		};
		expect(takesPart(6.5)).toEqual([true, false, false]);
		expect(takesPart(8.9)).toEqual([false, true, true, true]);
		// All are grouped anew: now it is the first in which it went against the others.
		expect(takesPart(18)).toEqual([false, true, true, true, true, true, true, true]);
	});

	it('are none where fingers are moved one at a time: that never makes the hand work', () => {
		const alone = Object.fromEntries(
			names.map((name, f) => [name, fists({open: 20, closed: 75, times: 3, from: 1 + 6 * f})]),
		);
		const features = featuresOver({channels: alone, seconds: 32});
		expect(waysIn(features).flat()).toEqual([]);
		expect(names.map((_, f) => features.hands[0].works(f, 0))).toEqual([false, false, false, false, false]);
	});

	it('make the hand work with two closings and two openings, since any time', () => {
		const features = featuresOver(hand());
		const [seen] = features.hands;
		expect(seen.works(0, 0)).toBe(true);
		// The second fist closes at 3.1 s: two fists are left. The third alone is too little.
		expect(seen.works(0, 3)).toBe(true);
		expect(seen.works(0, 3.5)).toBe(false);
	});

	it('keep two hands in one stream apart', () => {
		const both = Object.fromEntries([
			...names.map(name => [`${name}-1`, fist]),
			...names.map(name => [`${name}-2`, fists({open: 20, closed: 75, times: 2, from: 1.1})]),
		]);
		const features = featuresOver({channels: both, seconds: 9}, column => (column < 5 ? 'a' : 'b'));
		expect(features.hands.map(({fingers}) => fingers)).toEqual([
			[0, 1, 2, 3, 4],
			[5, 6, 7, 8, 9],
		]);
		expect(waysIn(features, 0)[2]).toEqual(threeFists);
		expect(waysIn(features, 1)[2]).toEqual([1, -1, 1, -1]);
	});

	it('leave out what is no finger, and group anew what was seen until then', () => {
		const features = featuresOver(hand({little: later(fist, 0.8)}, 10));
		const [seen] = features.hands;
		expect(seen.count[0]).toBe(6);
		seen.setOut(1, true);
		features.closeBlock(10.25, true);
		// Middle and ring are the only others that set out together now.
		expect(seen.count[0]).toBe(0);
		expect(seen.others(0)).toEqual([2, 3, 4]);
	});

	it('take in at once those who come as as many others go', () => {
		const course = fists({open: 20, closed: 75, times: 6});
		const eight: Drawing = {
			channels: Object.fromEntries(Array.from({length: 8}, (_, i) => [`finger-${i}`, course])),
			seconds: 13,
		};
		const features = featuresOf(eight);
		const [seen] = features.hands;
		const leaveOut = (...out: readonly number[]): void => {
			for (const f of seen.fingers) seen.setOut(f, out.includes(f));
		};
		const latest = (f: number): number => seen.members[seen.at(f, seen.count[f] - 1)];
		leaveOut(4, 5, 6, 7);
		takeIn(features, eight, 0, 4.5);
		expect(latest(0)).toBe(0b1110);
		leaveOut(0, 1, 2, 3);
		takeIn(features, eight, 4.5, 6.5);
		expect(latest(4)).toBe(0b1110_0000);
		leaveOut(0, 1, 2, 4);
		takeIn(features, eight, 6.5);
		expect(latest(5)).toBe(0b1100_1000);
	});

	it('are none where two fingers tap twice within 0.6 s: four trips, but two fingers', () => {
		const taps = fists({open: 20, closed: 75, from: 10, times: 2, period: 0.5, way: 0.2});
		const tapping: Course = t => (t < 9 ? fist(t) : taps(t));
		const features = featuresOver(hand({index: tapping, middle: tapping}, 14));
		expect(features.analog.trips.count[1]).toBe(10);
		expect(waysIn(features)[0]).toEqual(threeFists);
	});

	it('know the others of a hand with any number of fingers', () => {
		const fingers = Object.fromEntries(Array.from({length: 34}, (_, i) => [`finger-${i}`, held(20)]));
		const [seen] = featuresOf({channels: fingers, seconds: 0}).hands;
		expect(seen.others(0)).toHaveLength(33);
		seen.setOut(33, true);
		expect(seen.others(0)).toEqual(Array.from({length: 32}, (_, i) => i + 1));
	});
});

/** A glove that makes two fists and then what fingers do: fists, single fingers, chords, half fists, pointing. */
function drawn(seed: number): Drawing {
	const random = new Random(seed);
	const spans = names.map((_, f) => (f === 0 ? random.uniform(30, 34) : random.uniform(52, 60)));
	const points = spans.map((): [number, number][] => []);
	const rise = spans.map(() => random.chance(0.7));
	const level = (f: number, share: number): number => (rise[f] ? 15 + share * spans[f] : 85 - share * spans[f]);
	const now = spans.map(() => 0);
	const go = (f: number, at: number, share: number): void => {
		points[f].push([at, level(f, now[f])], [at + random.uniform(0.25, 0.6), level(f, share)]);
		now[f] = share;
	};
	let t = 1;
	const all = (share: number, within: number): void => {
		for (const f of spans.keys()) go(f, t + random.uniform(0, within), share);
		t += within + random.uniform(1, 1.6);
	};
	for (let k = 0; k < 2; k++) {
		all(1, 0.2);
		all(0, 0.2);
	}
	for (let k = 0; k < 9; k++) {
		const what = random.pick(['fist', 'spread fist', 'half fist', 'finger', 'chord', 'point'] as const);
		if (what === 'fist' || what === 'spread fist' || what === 'half fist') {
			const within = what === 'spread fist' ? 1 : 0.3;
			all(what === 'half fist' ? 0.3 : 1, within);
			all(0, within);
			continue;
		}
		const some = {finger: 1, chord: 2, point: 4}[what];
		const chosen = [...spans.keys()].sort(() => random.uniform() - 0.5).slice(0, some);
		for (const share of [1, 0]) {
			for (const f of chosen) go(f, t + random.uniform(0, 0.3), share);
			t += random.uniform(1.3, 2);
		}
	}
	const channels = Object.fromEntries(names.map((name, f) => [name, through(...points[f])]));
	return {channels, seconds: t + 3, rate: random.pick([60, 100, 150]), seed, noise: 0.15};
}

test.each(Array.from({length: 12}, (_, seed) => seed + 1))(
	'whole-hand movements of a drawn glove are those of a plain reading of the whole log (%i)',
	seed => {
		const drawing = drawn(seed);
		const {rate = 100} = drawing;
		const [seen] = featuresOver(drawing).hands;
		const plain = plainMovements(readings(drawing), rate);
		for (const f of seen.fingers) {
			const ours = Array.from({length: seen.count[f]}, (_, k) => {
				const place = seen.at(f, k);
				return {
					out: seen.outFrame[place],
					in: seen.inFrame[place],
					way: seen.way[place],
					members: seen.fingers.filter((_, bit) => (seen.members[place] & (1 << bit)) !== 0),
				};
			});
			// The first fist tells how far the fingers go: until then anything may be far.
			expect(ours.slice(0, 2).map(({way}) => way)).toEqual([1, -1]);
			// A trip that has settled may yet creep on, by less than 5 %: its nine tenths may come a frame or two later.
			const expected = plain[f].map((movement, k) => ({
				...movement,
				in: Math.abs((ours[k]?.in ?? 0) - movement.in) <= 2 ? ours[k].in : movement.in,
			}));
			expect(ours, `seen from ${names[f]}`).toEqual([...ours.slice(0, 2), ...expected.slice(2)]);
		}
	},
);
