import {describe, expect, test} from 'vitest';
import {Session} from '../../source/session/session.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {type Course, type Drawing, draw, fists, held, sum, through} from '../gloves/draw.ts';
import {learnRanges} from '../gloves/learning-firmware.ts';
import {healthyLearning} from '../gloves/learning-streams.ts';

const names = ['thumb', 'index', 'middle', 'ring', 'little'];

/** Five fingers that rest for a second and then close and open every two seconds; depths and paces differ a little. */
function hand(times: number, {open = 20, span = 50, from = 1} = {}): Record<string, Course> {
	return Object.fromEntries(
		names.map((name, i) => {
			const low = open + 2 * i;
			return [name, fists({open: low, closed: low + span * (1 - 0.06 * i), from, times, way: 0.35 + 0.04 * i})];
		}),
	);
}

type Seen = {
	/** When the channel began and ended to be learning; undefined if never. */
	readonly from?: number;
	readonly until?: number;
	readonly learnedUntil: number | null;
	readonly states: ReadonlySet<string>;
};

/** What a session says of each channel in the course of a stream. */
function watch(
	items: readonly SourceItem[],
	{fullScale, seconds, channels}: Drawing,
	scale = fullScale ?? 1023,
): Record<string, Seen> {
	const session = new Session({timing: 'measured', fullScale: scale, layout: Object.keys(channels).join(',')});
	const seen: Record<string, {from?: number; until?: number; learnedUntil: number | null; states: Set<string>}> =
		Object.fromEntries(Object.keys(channels).map(name => [name, {learnedUntil: null, states: new Set()}]));
	let next = 0.25;
	const look = (): void => {
		for (const view of session.snapshot().channels) {
			const one = seen[view.name];
			one.states.add(view.state);
			one.learnedUntil = view.learnedUntil;
			if (view.state === 'learning') one.from ??= session.t;
			else if (one.from !== undefined) one.until ??= session.t;
		}
	};
	for (const item of items) {
		session.push(item);
		if (item.t < next) continue;
		next += 0.25;
		look();
	}
	session.end(seconds);
	look();
	return seen;
}

function watchLearning(drawing: Drawing): Record<string, Seen> {
	const columns = names.map(name => Object.keys(drawing.channels).indexOf(name)).filter(column => column >= 0);
	return watch(learnRanges(draw(drawing), {columns, fullScale: drawing.fullScale ?? 1023}), drawing);
}

describe('a channel is learning', () => {
	test('from its first second on until it has gone there and back twice on one grid', () => {
		const seen = watchLearning({channels: hand(6), seconds: 14});
		for (const name of names) {
			expect(seen[name].from).toBeLessThan(1.1);
			// The first closing (1.0–1.4 s) widens the range, the opening at 2 s shows it; two whole trips later it is 6.4 s.
			expect(seen[name].until).toBeGreaterThan(5);
			expect(seen[name].until).toBeLessThan(7.1);
			expect(seen[name].learnedUntil).toBeCloseTo(seen[name].until!, 0);
		}
	});

	test('likewise on 12 bits, with the noise of such a board, after no rest and after three seconds of it', () => {
		for (const from of [0.2, 3]) {
			const seen = watchLearning({channels: hand(6, {from}), seconds: from + 13, fullScale: 4095, noise: 0.16});
			for (const name of names) {
				// One that sets a new highest from its second reading on is never seen at 0 before its range is wide: the others tell.
				expect(seen[name].from).toBeLessThan(from + 1.5);
				expect(seen[name].until).toBeGreaterThan(from + 3);
				expect(seen[name].until).toBeLessThan(from + 6.5);
			}
		}
	});

	test('on a bend sensor whose range stays at forty raw counts, and no longer than that', () => {
		const seen = watchLearning({channels: hand(6, {span: 4}), seconds: 14, noise: 0.03});
		for (const name of names) {
			expect(seen[name].from).toBeLessThan(1.6);
			expect(seen[name].until).toBeLessThan(8);
		}
	});

	test('for as long as the range keeps widening: each fist a tenth deeper than the one before', () => {
		const deeper: Course = t => {
			const fist = Math.floor((t - 1) / 2);
			return t < 1
				? 20
				: through([0, 20], [0.4, 30 + 5 * Math.min(fist, 6)], [1, 30 + 5 * Math.min(fist, 6)], [1.4, 20])((t - 1) % 2);
		};
		const seen = watchLearning({channels: {...hand(11), index: deeper}, seconds: 24});
		expect(seen.thumb.until).toBeLessThan(7.1);
		// The last that goes deeper is the seventh, from 13 s on.
		expect(seen.index.until).toBeGreaterThan(15);
		expect(seen.index.until).toBeLessThan(20);
	});

	test('through a long rest, however it flickers', () => {
		for (const noise of [0.03, 0.1, 0.3]) {
			const still = Object.fromEntries(names.map((name, i) => [name, held(20 + 2.02 * i)]));
			const seen = watchLearning({channels: still, seconds: 40, noise, rate: 50});
			for (const name of names) {
				expect(seen[name].from).toBeLessThan(15);
				expect(seen[name].until).toBeUndefined();
			}
		}
	});

	test('and nothing else is said of it: no state but learning, no finding', () => {
		const drawing = {channels: hand(2, {from: 3}), seconds: 6};
		const session = new Session({timing: 'measured', fullScale: 1023, layout: names.join(',')});
		for (const item of learnRanges(draw(drawing), {columns: [0, 1, 2, 3, 4], fullScale: 1023})) session.push(item);
		session.end(6);
		const {channels, findings, checks} = session.snapshot();
		expect(channels.map(({state}) => state)).toEqual(names.map(() => 'learning'));
		expect(findings).toEqual([]);
		expect(checks.filter(({channel}) => channel !== null)).toEqual([]);
	});

	test('again after the board has started again', () => {
		const drawing = {channels: hand(12), seconds: 26};
		const items = learnRanges(draw(drawing), {columns: [0, 1, 2, 3, 4], fullScale: 1023}).filter(({t}) => t < 12);
		const start: SourceItem = {t: 12.5, bytes: new TextEncoder().encode('glove firmware 2.1 ready\r\n')};
		const boot: SourceItem = {...start, t: 0};
		const later = learnRanges(draw(drawing), {columns: [0, 1, 2, 3, 4], fullScale: 1023}).map(item => ({
			...item,
			t: item.t + 13,
		}));
		const seen = watch([boot, ...items, start, ...later], {...drawing, seconds: 39});
		for (const name of names) {
			expect(seen[name].learnedUntil).toBeGreaterThan(17);
			expect(seen[name].learnedUntil).toBeLessThan(21);
		}
	});
});

describe('a range that grows later', () => {
	test('by more than a tenth begins an epoch of its channel, and is not told', () => {
		// Of its own pace, or it might be a ghost of the middle finger.
		const grown = fists({open: 30, closed: 60, times: 5, way: 0.5});
		const drawing = {
			channels: {...hand(12), ring: sum(grown, fists({open: 0, closed: 50, from: 11, times: 7, way: 0.5}))},
			seconds: 26,
		};
		const session = new Session({timing: 'measured', fullScale: 1023, layout: names.join(',')});
		const epochs: number[] = [];
		for (const item of learnRanges(draw(drawing), {columns: [0, 1, 2, 3, 4], fullScale: 1023})) {
			session.push(item);
			const from = session.features.epochFromOf(3);
			if (from > 0 && from !== epochs[epochs.length - 1]) epochs.push(from);
		}
		session.end(26);
		const ring = session.snapshot().channels[3];
		expect(epochs[0]).toBe(ring.learnedUntil);
		expect(epochs.length).toBeGreaterThan(1);
		expect(epochs[1]).toBeGreaterThan(11);
		expect(epochs[epochs.length - 1]).toBeLessThan(14);
		expect(ring.state).toBe('proven');
		expect(session.findings).toEqual([]);
	});
});

test('two fingers that were not seen to learn are held for what the other three are: their ends are the firmware’s', () => {
	// The hand moves from the first frame on, so that both grids are fine before the rails are touched: the index lies at the top for
	// a tenth of the time by 9.75 s.
	const {items, seconds, truth} = healthyLearning(930107, 10, 0);
	const session = new Session({timing: 'measured', baud: truth.declared.baud});
	for (const item of items) session.push(item);
	session.end(seconds);
	expect(
		session
			.snapshot()
			.channels.map(({learnedUntil}) => learnedUntil !== null)
			.slice(0, 5),
	).toEqual([false, false, true, true, true]);
	expect(session.findings).toEqual([]);
});

describe('never learning is', () => {
	/** Sends each finger through `of`, counts in and out. */
	const sent = (drawing: Drawing, of: (counts: number, column: number) => number): SourceItem[] =>
		draw(drawing).map(item => {
			if (!('bytes' in item)) return item;
			const line = new TextDecoder()
				.decode(item.bytes)
				.trim()
				.split(',')
				.map((text, column) => of(Number(text), column));
			return {...item, bytes: new TextEncoder().encode(`${line.join(',')}\n`)};
		});
	const plain = {channels: {...hand(6), 'stick-x': held(50), 'stick-y': held(51)}, seconds: 14};
	const wide = {...plain, channels: hand(6, {open: -10, span: 125})};
	const clip = (value: number, most: number): number => Math.max(0, Math.min(most, Math.round(value)));
	/** A hand's 200…700 counts stretched to 0…`most`, both ends cut. */
	const stretched =
		(most: number) =>
		(counts: number): number =>
			clip(((counts - 250) * most) / 350, most);

	const quiet: Record<string, [SourceItem[], Drawing, number?]> = {
		'an ordinary raw glove': [draw(plain), plain],
		'one at 20 frames a second': [draw({...plain, rate: 20}), plain],
		'one without noise': [draw({...plain, noise: 0}), plain],
		'one that rests for a minute': [
			draw({...plain, channels: hand(0), seconds: 60}),
			{...plain, channels: hand(0), seconds: 60},
		],
		'a pot that goes from rail to rail': [draw(wide), wide],
		'one on 12 bits': [draw({...wide, fullScale: 4095, noise: 0.16}), {...wide, fullScale: 4095}],
		'one on 12 bits that starts at its lower rail': [
			draw({...plain, channels: hand(6, {open: -1, span: 110}), fullScale: 4095, noise: 0.05}),
			{...plain, channels: hand(6), fullScale: 4095},
		],
		'firmware that scales to 0…1023': [sent(plain, stretched(1023)), plain],
		'firmware that scales to 0…255': [sent(plain, stretched(255)), plain],
		'the same with 255 declared': [sent(plain, stretched(255)), {...plain, fullScale: 255}, 255],
		'firmware that scales to 0…100': [sent(plain, stretched(100)), plain],
		'firmware that scales to 0…180': [sent(plain, stretched(180)), plain],
		'the same with 180 declared': [sent(plain, stretched(180)), {...plain, fullScale: 180}, 180],
		'a channel that clips at both rails': [
			sent({...plain, noise: 0.3}, counts => clip((counts - 300) * 4, 1023)),
			plain,
		],
		'a constant column': [draw({...plain, channels: {...hand(6), ring: held(0), little: held(100)}, noise: 0}), plain],
		'one that jumps from its level to both rails': [
			sent(plain, (counts, column) => (column === 2 && counts % 7 === 0 ? (counts % 2) * 1023 : counts)),
			plain,
		],
		'steps of 8 counts': [sent(plain, counts => counts & ~7), plain],
		'steps of 64 counts from rail to rail': [sent(wide, counts => counts & ~63), wide],
		'steps of 16 counts above an offset of 5, from rail to rail': [
			sent(wide, counts => clip(((counts >> 4) << 4) + 5, 1023)),
			wide,
		],
	};
	for (const [name, [items, drawing, scale]] of Object.entries(quiet)) {
		test(name, () => {
			for (const seen of Object.values(watch(items, drawing, scale))) {
				expect(seen.from).toBeUndefined();
				expect(seen.learnedUntil).toBeNull();
			}
		});
	}
});
