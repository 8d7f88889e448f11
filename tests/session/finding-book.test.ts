import {describe, expect, test} from 'vitest';
import type {Answer} from '../../source/faults/ask.ts';
import type {Sign} from '../../source/faults/fault.ts';
import {findFault} from '../../source/faults/registry.ts';
import {FindingBook} from '../../source/session/finding-book.ts';
import type {Finding} from '../../source/session/snapshot.ts';

// What checks answer, evaluation by evaluation, and what stands in the book then: spans, evidence, order, closing, which
// one is first, and which gives way to its cause. The book knows no readings, so there are none here.

/** An answer of one check about one channel. */
type Said = readonly [name: string, answer: Answer];

/** Evaluations, each at its stream time. */
type Play = readonly (readonly [now: number, ...answers: Said[]])[];

const refused: Answer = {state: 'refused', sign: null, margin: 1};
const held: Answer = {state: 'held', sign: null, margin: 1};
const absent: Answer = {state: 'absent', sign: null, margin: 1};

function raised(from: number, more: Partial<Sign> = {}, margin = 1): Answer {
	return {state: 'raised', sign: {from, summary: `since ${from}`, evidence: {from}, ...more}, margin};
}

const order = ['thumb', 'index', 'middle', 'ring', 'little'];

function note(book: FindingBook, [name, answer]: Said, now: number): void {
	const [code, channel = null] = name.split(' ');
	const fault = findFault(code);
	if (fault === undefined) throw new Error(`no fault ${code}`);
	book.note(fault, channel, channel === null ? 0 : order.indexOf(channel), answer, now);
}

function played(play: Play): FindingBook {
	const book = new FindingBook();
	for (const [now, ...answers] of play) {
		for (const said of answers) note(book, said, now);
		book.settle(now);
	}
	return book;
}

const nameOf = ({code, channel}: Pick<Finding, 'code' | 'channel'>): string =>
	channel === null ? code : `${code} ${channel}`;

/** Spans by finding, in the order of the list. */
function spans(book: FindingBook): Record<string, unknown> {
	return Object.fromEntries(book.list().map(finding => [nameOf(finding), finding.spans]));
}

const first = (book: FindingBook): string[] =>
	book
		.list()
		.filter(finding => finding.first)
		.map(nameOf);

describe('a finding opens, is renewed and closes', () => {
	const plays: readonly (readonly [title: string, play: Play, spans: Record<string, unknown>])[] = [
		['opens at the time of its sign', [[5, ['narrow-span ring', raised(2)]]], {'narrow-span ring': [[2, null]]}],
		[
			'opens when it was seen where its sign does not know when it began, and ends then',
			[
				[5, ['narrow-span ring', raised(Number.NaN, {seenAt: 4})], ['backlash ring', raised(Number.NaN)]],
				[6, ['narrow-span ring', refused]],
			],
			{'narrow-span ring': [[4, 4]]},
		],
		[
			'opens now where its sign does not know when it was seen either',
			[[5, ['narrow-span ring', raised(Number.NaN, {seenAt: Number.NaN})]]],
			{'narrow-span ring': [[5, null]]},
		],
		[
			'ends when it was last seen, once its evidence turns',
			[
				[5, ['narrow-span ring', raised(2)]],
				[6, ['narrow-span ring', raised(2)]],
				[6.25, ['narrow-span ring', refused]],
			],
			{'narrow-span ring': [[2, 6]]},
		],
		[
			'ends at the time its sign gives, not when that is noticed',
			[
				[5, ['dropout ring', raised(2, {seenAt: 4.5})]],
				[60, ['dropout ring', refused]],
			],
			{'dropout ring': [[2, 4.5]]},
		],
		[
			'stands while it is too much to close it',
			[
				[5, ['narrow-span ring', raised(2)]],
				[9, ['narrow-span ring', held]],
			],
			{'narrow-span ring': [[2, null]]},
		],
		[
			'ends where its check no longer applies',
			[
				[5, ['narrow-span ring', raised(2)]],
				[9, ['narrow-span ring', absent]],
			],
			{'narrow-span ring': [[2, 5]]},
		],
		[
			'is no finding where nothing was ever raised',
			[
				[5, ['narrow-span ring', refused]],
				[6, ['narrow-span ring', held]],
			],
			{},
		],
		[
			'that comes back within a second goes on',
			[
				[5, ['dropout ring', raised(2)]],
				[5.25, ['dropout ring', refused]],
				[6, ['dropout ring', raised(5.9)]],
			],
			{'dropout ring': [[2, null]]},
		],
		[
			'that comes back later has two stretches and is still one',
			[
				[5, ['dropout ring', raised(2)]],
				[5.25, ['dropout ring', refused]],
				[9, ['dropout ring', raised(8)]],
			],
			{
				'dropout ring': [
					[2, 5],
					[8, null],
				],
			},
		],
		[
			'is one on each channel',
			[[5, ['dropout ring', raised(2)], ['dropout index', raised(3)]]],
			{'dropout ring': [[2, null]], 'dropout index': [[3, null]]},
		],
	];

	test.each(plays)('%s', (_, play, expected) => {
		expect(spans(played(play))).toEqual(expected);
	});

	test('keeps when it was flagged, and tells the latest evidence and status', () => {
		const book = played([
			[5, ['floating-input ring', raised(2, {status: 'function-check'})]],
			[7, ['floating-input ring', raised(2, {summary: 'worse', evidence: {share: 3}})]],
		]);
		expect(book.list()).toMatchObject([
			{from: 2, flaggedAt: 5, status: 'failure', summary: 'worse', evidence: {share: 3}},
		]);
	});

	test('is as sure as it ever was: 0.6 at its limit, 0.3 more where the weakest figure is twice that', () => {
		const book = played([
			[5, ['dropout ring', raised(2, {}, 2)]],
			[6, ['dropout ring', raised(2, {}, 1)]],
		]);
		expect(book.list()[0].confidence).toBe(0.9);
		expect(played([[5, ['dropout ring', raised(2)]]]).list()[0].confidence).toBe(0.6);
	});

	test('is listed in the order in which it was flagged', () => {
		const book = played([
			[5, ['dropout ring', raised(4)]],
			[6, ['narrow-span thumb', raised(0)], ['dropout index', raised(1, {flaggedAt: 5.5})]],
		]);
		expect(book.list().map(nameOf)).toEqual(['dropout ring', 'dropout index', 'narrow-span thumb']);
	});
});

describe('what a finding says to do', () => {
	const adviceOf = (book: FindingBook) => book.list()[0].advice;

	test('is what the latest sign says, before the catalogue', () => {
		const catalogue = adviceOf(played([[5, ['narrow-span ring', raised(2)]]]));
		const play: Play = [
			[5, ['narrow-span ring', raised(2, {advice: ['Look at the spool.']})]],
			[6, ['narrow-span ring', raised(2, {advice: ['Look at the cord.']})]],
			[7, ['narrow-span ring', raised(2)]],
		];
		expect(adviceOf(played(play.slice(0, 1)))).toEqual(['Look at the spool.', ...catalogue]);
		expect(adviceOf(played(play.slice(0, 2)))).toEqual(['Look at the cord.', ...catalogue]);
		expect(adviceOf(played(play))).toEqual(catalogue);
	});
});

describe('an event is over when it is told', () => {
	const plays: readonly (readonly [title: string, play: Play, spans: Record<string, unknown>])[] = [
		['has both its ends', [[5.5, ['stall', raised(2, {to: 5, flaggedAt: 5})]]], {stall: [[2, 5]]}],
		[
			'is told once, however often it is answered',
			[
				[5.5, ['stall', raised(2, {to: 5})]],
				[5.75, ['stall', raised(2, {to: 5})]],
				[6, ['stall', refused]],
			],
			{stall: [[2, 5]]},
		],
		[
			'is a new stretch where it begins anew',
			[
				[5.5, ['stall', raised(2, {to: 5})]],
				[20, ['stall', raised(18, {to: 19.5})]],
			],
			{
				stall: [
					[2, 5],
					[18, 19.5],
				],
			},
		],
		[
			'never shortens the stretch it falls into',
			[
				[5.5, ['device-restart', raised(2, {to: 5})]],
				[5.75, ['device-restart', raised(4, {to: 4.5})]],
			],
			{'device-restart': [[2, 5]]},
		],
		[
			'ends a stretch that was open',
			[
				[5, ['port-lost', raised(3)]],
				[8, ['port-lost', raised(3, {to: 7.4})]],
				[9, ['port-lost', refused]],
			],
			{'port-lost': [[3, 7.4]]},
		],
	];

	test.each(plays)('%s', (_, play, expected) => {
		expect(spans(played(play))).toEqual(expected);
	});
});

describe('one cause gives one finding', () => {
	const plays: readonly (readonly [title: string, play: Play, spans: Record<string, unknown>])[] = [
		[
			'what a cause explains is not raised beside it',
			[[5, ['supply-ripple', raised(2)], ['excess-noise ring', raised(2)]]],
			{'supply-ripple': [[2, null]]},
		],
		[
			'a cause on another channel explains nothing',
			[[5, ['floating-input index', raised(2)], ['excess-noise ring', raised(2)]]],
			{'floating-input index': [[2, null]], 'excess-noise ring': [[2, null]]},
		],
		[
			'a cause that is recognised later but began as early takes over',
			[
				[5, ['excess-noise ring', raised(2)]],
				[7, ['floating-input ring', raised(2.5)], ['excess-noise ring', raised(2)]],
			],
			{'floating-input ring': [[2.5, null]]},
		],
		[
			'what was confirmed is closed, not deleted, by a cause that began later',
			[
				[5, ['excess-noise ring', raised(2)]],
				[9, ['floating-input ring', raised(8)], ['excess-noise ring', raised(2)]],
				[10, ['floating-input ring', raised(8)], ['excess-noise ring', raised(2)]],
			],
			{'excess-noise ring': [[2, 5]], 'floating-input ring': [[8, null]]},
		],
		[
			'also where its own check would keep it open',
			[
				[5, ['excess-noise ring', raised(2)]],
				[9, ['floating-input ring', raised(4)], ['excess-noise ring', held]],
			],
			{'excess-noise ring': [[2, 5]], 'floating-input ring': [[4, null]]},
		],
		[
			'of several stretches only the one that a cause explains is taken back',
			[
				[5, ['dropout ring', raised(2, {seenAt: 5})]],
				[6, ['dropout ring', refused]],
				[22, ['dropout ring', raised(20, {seenAt: 22})]],
				[23, ['floating-input ring', raised(20)], ['dropout ring', raised(20, {seenAt: 23})]],
			],
			{'dropout ring': [[2, 5]], 'floating-input ring': [[20, null]]},
		],
		[
			'a stretch that was closed by a cause that began later does not close the next one, which comes well after that cause',
			[
				[5, ['dropout ring', raised(2)]],
				[6, ['floating-input ring', raised(4)], ['dropout ring', raised(2)]],
				[7, ['floating-input ring', refused], ['dropout ring', refused]],
				[12, ['dropout ring', raised(11)]],
			],
			{
				'dropout ring': [
					[2, 5],
					[11, null],
				],
				'floating-input ring': [[4, 6]],
			},
		],
		[
			'what follows its cause within two seconds is still its',
			[
				[5, ['device-restart', raised(4, {to: 5})]],
				[6.5, ['stall', raised(4, {to: 6.5})]],
			],
			{'device-restart': [[4, 5]]},
		],
		[
			'what comes well after it is not',
			[
				[5, ['device-restart', raised(4, {to: 5})]],
				[12, ['stall', raised(10, {to: 12})]],
			],
			{'device-restart': [[4, 5]], stall: [[10, 12]]},
		],
		[
			'what begins well after the last sign of a cause that comes and goes is none of its, though it is still open',
			[
				[20, ['broken-frames', raised(14, {seenAt: 20})]],
				[53, ['broken-frames', raised(14, {seenAt: 20})], ['excess-noise index', raised(48)]],
			],
			{'broken-frames': [[14, null]], 'excess-noise index': [[48, null]]},
		],
		[
			'what began before that last sign is its for as long as it is open',
			[
				[20, ['broken-frames', raised(14, {seenAt: 20})]],
				[53, ['broken-frames', raised(14, {seenAt: 20})], ['excess-noise index', raised(19)]],
			],
			{'broken-frames': [[14, null]]},
		],
		[
			'a silence that is over was a stall',
			[
				[10, ['silent', raised(4, {flaggedAt: 9})]],
				[12, ['silent', refused], ['stall', raised(4, {to: 11.9})]],
			],
			{stall: [[4, 11.9]]},
		],
	];

	test.each(plays)('%s', (_, play, expected) => {
		expect(spans(played(play))).toEqual(expected);
	});

	test('a masked true fault takes over once it has outlasted its mask by as long as both were there', () => {
		const until = (last: number): Record<string, unknown> => {
			const play: [number, ...Said[]][] = [];
			for (let now = 5; now <= last; now++)
				play.push([now, ['wrong-full-scale', now <= 8 ? raised(4) : refused], ['narrow-span ring', raised(2)]]);
			return spans(played(play));
		};
		// Both were there from 4 to 8 s: until 12 s what is seen may be left from then.
		expect(until(12)).toEqual({'wrong-full-scale': [[4, 8]]});
		expect(until(13)).toEqual({'wrong-full-scale': [[4, 8]], 'narrow-span ring': [[2, null]]});
	});

	test('a fault that begins after its mask is over is told at once', () => {
		const book = played([
			[5, ['wrong-full-scale', raised(4)]],
			[40, ['wrong-full-scale', refused]],
			[41, ['narrow-span ring', raised(39)]],
		]);
		expect(spans(book)).toEqual({'wrong-full-scale': [[4, 5]], 'narrow-span ring': [[39, null]]});
	});
});

describe('the one to do first', () => {
	const plays: readonly (readonly [title: string, play: Play, first: string])[] = [
		['is nearest to the cause', [[5, ['narrow-span ring', raised(1)], ['dropout index', raised(2)]]], 'dropout index'],
		[
			'then the gravest',
			[[5, ['floating-input index', raised(1, {status: 'function-check'})], ['floating-input ring', raised(2)]]],
			'floating-input ring',
		],
		['then the earliest', [[5, ['dropout index', raised(2)], ['dropout ring', raised(1)]]], 'dropout ring'],
		['then the first in scan order', [[5, ['dropout ring', raised(1)], ['dropout index', raised(1)]]], 'dropout index'],
		[
			'stays while it is open, also where one nearer to a cause opens that is none of its own',
			[
				[5, ['narrow-span ring', raised(1)]],
				[6, ['narrow-span ring', raised(1)], ['dropout index', raised(2)]],
			],
			'narrow-span ring',
		],
		[
			'changes where a cause of it opens',
			[
				[5, ['narrow-span ring', raised(1)]],
				[9, ['floating-input ring', raised(8)], ['narrow-span ring', raised(1)]],
			],
			'floating-input ring',
		],
		[
			'changes when it closes',
			[
				[5, ['dropout index', raised(1)], ['narrow-span ring', raised(1)]],
				[6, ['dropout index', refused], ['narrow-span ring', raised(1)]],
			],
			'narrow-span ring',
		],
		[
			'is among the closed where none is open',
			[
				[5, ['dropout index', raised(1)], ['narrow-span ring', raised(1)]],
				[6, ['dropout index', refused], ['narrow-span ring', refused]],
			],
			'dropout index',
		],
	];

	test.each(plays)('%s', (_, play, expected) => {
		expect(first(played(play))).toEqual([expected]);
	});

	test('is exactly one as long as there is any, whatever happens', () => {
		const book = played([[5, ['dropout index', raised(1)], ['silent', raised(1)]]]);
		book.dropLayout([], 6);
		expect(first(book)).toEqual(['silent']);
		book.endEpoch(7);
		expect(first(book)).toEqual(['silent']);
	});
});

describe('epochs and layouts', () => {
	const before: Play = [
		[5, ['dropout index', raised(1)], ['stuck-mid ring', raised(2)], ['stall', raised(1, {to: 2})]],
	];

	test('an epoch closes what is open on channels, at its time', () => {
		const book = played(before);
		book.endEpoch(4);
		expect(spans(book)).toMatchObject({'dropout index': [[1, 4]], stall: [[1, 2]]});
	});

	test('what was found under a layout that was wrong goes with it, what was found on the link stays', () => {
		const book = played([
			[5, ['dropout index', raised(1)], ['stuck-mid ring', raised(2)], ['stall', raised(1, {to: 2})]],
		]);
		book.dropLayout([], 6);
		expect(spans(book)).toEqual({stall: [[1, 2]]});
	});

	test('and what was found on a channel of which it was right is closed', () => {
		const book = played([[5, ['dropout index', raised(1)], ['stuck-mid ring', raised(2)]]]);
		book.dropLayout(['index'], 6);
		expect(spans(book)).toEqual({'dropout index': [[1, 5]]});
	});

	test('a finding that goes on in the next epoch goes on in the book', () => {
		const book = played([[5, ['dropout index', raised(1)]]]);
		book.endEpoch(5);
		note(book, ['dropout index', raised(5.5)], 9);
		expect(spans(book)).toEqual({'dropout index': [[1, null]]});
	});
});
