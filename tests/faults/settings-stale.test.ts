import {describe, expect, test} from 'vitest';
import {Checkpoint} from '../../source/dashboard/checkpoint.ts';
import type {DeclaredFingers} from '../../source/features/declared-travel.ts';
import {Session} from '../../source/session/session.ts';
import type {SessionOptions} from '../../source/session/session-options.ts';
import {type Course, type Drawing, draw, fists, found, held, sessionOver, sum, through} from '../gloves/draw.ts';

// Check-values D5.4, settings-stale: with a sheet, from ends visited at least three times: at least 10 % of the sheet's span inside
// or 5 % outside, or the direction differs; silent at 3 %, and for a finger without three whole movements. All fingers by one
// factor are one finding.

const fullScale = 4095;

/** Open and closed levels, % FS, as a true sheet has them. */
const travels: Readonly<Record<string, readonly [open: number, closed: number]>> = {
	thumb: [25, 60],
	index: [30, 80],
	middle: [28, 82],
	ring: [32, 84],
	little: [35, 80],
};

type Entry = {readonly min: number; readonly max: number; readonly inverted?: boolean};
type Change = (entry: Entry) => Entry;

/** The sheet that fits, but for what is changed in it. */
function sheet(changes: Record<string, Change> = {}, of = travels): DeclaredFingers {
	return Object.fromEntries(
		Object.entries(of).map(([name, [open, closed]]) => {
			const counts = (percent: number): number => (percent / 100) * fullScale;
			const entry = {min: counts(Math.min(open, closed)), max: counts(Math.max(open, closed)), inverted: closed < open};
			const {min, max, ...rest} = (changes[name] ?? (same => same))(entry);
			return [name, {...rest, min: Math.round(min), max: Math.round(max)}];
		}),
	);
}

/** The sheet's end lies so many per cent of the sheet's span beyond where the finger ends: that lies inside. */
const inside =
	(percent: number, end: 'min' | 'max'): Change =>
	({min, max, ...rest}) => {
		const more = ((max - min) * percent) / (100 - percent);
		return end === 'min' ? {min: min - more, max, ...rest} : {min, max: max + more, ...rest};
	};

/** The finger goes so many per cent of the sheet's span beyond the sheet's end. */
const outside =
	(percent: number, end: 'min' | 'max'): Change =>
	({min, max, ...rest}) => {
		const less = ((max - min) * percent) / (100 + percent);
		return end === 'min' ? {min: min + less, max, ...rest} : {min, max: max - less, ...rest};
	};

const turned: Change = entry => ({...entry, inverted: entry.inverted !== true});
const unsaid: Change = ({min, max}) => ({min, max});

type Work = {
	readonly times?: number;
	readonly seconds?: number;
	/** Share of its travel that every finger goes, and where from: fists that are not closed, hands that only relax. */
	readonly depth?: number;
	readonly relaxed?: number;
	/** On all levels: another supply. */
	readonly factor?: number;
	readonly of?: typeof travels;
	readonly change?: Record<string, Course>;
};

/** A hand that makes fists. */
function glove({
	times = 4,
	seconds,
	depth = 1,
	relaxed = 0,
	factor = 1,
	of = travels,
	change = {},
}: Work = {}): Drawing {
	const channels = Object.fromEntries(
		Object.entries(of).map(([name, [open, closed]], i) => {
			const way = closed - open;
			return [
				name,
				fists({
					open: factor * (open + relaxed * way),
					closed: factor * (open + depth * way),
					times,
					from: 1 + 0.04 * i,
					way: 0.4 + 0.03 * i,
				}),
			];
		}),
	);
	return {channels: {...channels, ...change}, seconds: seconds ?? 2 * times + 2, rate: 50, fullScale};
}

function stale(drawing: Drawing, fingers: DeclaredFingers): string[] {
	return found(sessionOver(drawing, {fingers})).filter(name => name.startsWith('settings-stale'));
}

/** All fingers but these fall when the hand closes. */
const falling = Object.fromEntries(
	Object.entries(travels).map(([name, [open, closed]]) => [name, [closed, open] as const]),
);

/** All fingers open here. */
const openAt = (level: number): typeof travels =>
	Object.fromEntries(Object.entries(travels).map(([name, [open, closed]]) => [name, [level, level + closed - open]]));

/** Spans by 0.86, open levels a share of the way from where that factor takes them (0) to where the sheet has them (1). */
const openBetween = (share: number): typeof travels =>
	Object.fromEntries(
		Object.entries(travels).map(([name, [open, closed]]) => {
			const level = open * (0.86 + share * 0.14);
			return [name, [level, level + 0.86 * (closed - open)]];
		}),
	);

/** Four fists, the second turned for the ring: it has bent alone, is stretched while the others close, and bends as they open. */
const crossedOnce = (): Course => {
	const [open, closed] = travels.ring;
	const whole = (times: number, from: number): Course =>
		fists({open: 0, closed: closed - open, times, from: from + 0.12, way: 0.49});
	const alone = through([2.5, 0], [2.95, closed - open], [4.55, closed - open], [5, 0]);
	const against = fists({open: 0, closed: open - closed, times: 1, from: 3.12, way: 0.49});
	return sum(held(open), whole(1, 1), alone, against, whole(2, 5));
};

/** No two of its fists go equally deep: its closed end is not known. */
const deeperEachTime = (name: string): Course => {
	const [open, closed] = travels[name];
	return sum(
		held(open),
		...[0.6, 0.72, 0.84, 1].map((depth, k) =>
			fists({open: 0, closed: depth * (closed - open), times: 1, from: 1 + 2 * k}),
		),
	);
};

/** Half of the travel of one finger. */
const halfway = (name: string, times = 4): Course => {
	const [open, closed] = travels[name];
	return fists({open, closed: open + 0.5 * (closed - open), times});
};

const ofThree = Object.fromEntries(Object.entries(travels).slice(1, 4));
const ofTwo = Object.fromEntries(Object.entries(travels).slice(1, 3));

describe('is raised', () => {
	test.each<[string, Drawing, DeclaredFingers, string[]]>([
		['where the open end lies 10 % inside, the must', glove(), sheet({ring: inside(10, 'min')}), ['ring']],
		['where the closed end lies 10 % inside', glove(), sheet({index: inside(10, 'max')}), ['index']],
		['after exactly three fists', glove({times: 3}), sheet({ring: inside(12, 'min')}), ['ring']],
		['where the open end lies 5 % outside, the must', glove(), sheet({ring: outside(5, 'min')}), ['ring']],
		['where the closed end lies 5 % outside', glove(), sheet({little: outside(5, 'max')}), ['little']],
		['on a glove whose readings fall', glove({of: falling}), sheet({ring: inside(12, 'max')}, falling), ['ring']],
		['on a glove of two fingers', glove({of: ofTwo}), sheet({index: outside(8, 'max')}, ofTwo), ['index']],
		['on two fingers', glove(), sheet({ring: inside(12, 'max'), thumb: outside(7, 'min')}), ['ring', 'thumb']],
		['where the direction is turned, after three fists', glove({times: 3}), sheet({ring: turned}), ['ring']],
		['where two of five are turned', glove(), sheet({ring: turned, thumb: turned}), ['ring', 'thumb']],
		['where one of three is turned', glove({of: ofThree}), sheet({ring: turned}, ofThree), ['ring']],
		[
			'where the one that is turned falls as its neighbours do',
			glove({of: falling}),
			sheet({index: turned}, falling),
			['index'],
		],
		[
			'of each finger by itself where another hand goes beyond all of them',
			glove(),
			sheet({
				thumb: outside(6, 'max'),
				index: outside(16, 'max'),
				middle: outside(11, 'max'),
				ring: outside(24, 'max'),
				little: outside(9, 'max'),
			}),
			['index', 'little', 'middle', 'ring', 'thumb'],
		],
		[
			'where two of the other fingers have shown their ends, and two have not yet',
			glove({change: {thumb: deeperEachTime('thumb'), little: deeperEachTime('little')}}),
			sheet({ring: inside(12, 'min')}),
			['ring'],
		],
		[
			'of each finger by itself where the glove has but two, both by 0.86: they may agree by chance',
			glove({factor: 0.86, of: ofTwo}),
			sheet({}, ofTwo),
			['index', 'middle'],
		],
		[
			'of each finger by itself where the factors of two lie 4 % from the middle one',
			glove({factor: 0.86}),
			sheet({thumb: outside(4, 'max'), little: inside(4, 'max')}),
			['index', 'little', 'middle', 'ring', 'thumb'],
		],
	])('%s', (_title, drawing, fingers, channels) => {
		expect(stale(drawing, fingers)).toEqual(channels.map(channel => `settings-stale ${channel}`));
	});
});

describe('is one finding', () => {
	test.each<[string, Drawing, DeclaredFingers]>([
		['where all fingers go by 0.86', glove({factor: 0.86}), sheet()],
		['at 0.93', glove({factor: 0.93}), sheet()],
		['at 1.15', glove({factor: 1.15}), sheet()],
		['of three fingers', glove({factor: 0.86, of: ofThree}), sheet({}, ofThree)],
		['of a glove whose readings fall', glove({factor: 0.86, of: falling}), sheet({}, falling)],
		[
			'where the factors of the fingers lie 2.5 % from the middle one',
			glove({factor: 0.86}),
			sheet({thumb: outside(2.5, 'max'), little: inside(2.5, 'max')}),
		],
		[
			'where the supply has fallen to 0.86 and open hands lie a third of the way back: the cords are a little tighter',
			glove({of: openBetween(0.35)}),
			sheet(),
		],
		[
			'where open hands lie so low that the factor moves them by 1¼ % of the spans',
			glove({factor: 0.86, of: openAt(4.2)}),
			sheet({}, openAt(4.2)),
		],
	])('%s', (_title, drawing, fingers) => {
		expect(stale(drawing, fingers)).toEqual(['settings-stale']);
	});

	test('that says the factor, what it may be, and the new lines', () => {
		const [finding] = sessionOver(glove({factor: 0.86}), {fingers: sheet()}).findings;
		expect(finding).toMatchObject({code: 'settings-stale', channel: null, status: 'out-of-spec', to: null});
		expect(finding.evidence).toEqual({factor: expect.closeTo(0.86, 1.8), fingers: 5});
		expect(finding.summary).toMatch(/^All fingers by 0\.8[67]\d?: supply or full scale\./);
		expect(finding.advice[1]).toMatch(/glovebench fit.*index: min = 10\d\d, max = 28\d\d; middle/);
	});

	test('and single fingers are not named while one has not shown its ends yet', () => {
		const [open, closed] = [0.86 * travels.little[0], 0.86 * travels.little[1]];
		const deeper = [0.6, 0.7, 0.8, 1, 1, 1].map((depth, k) =>
			fists({
				open: k === 0 ? open : 0,
				closed: (k === 0 ? open : 0) + depth * (closed - open),
				times: 1,
				from: 1 + 2 * k,
			}),
		);
		const drawing = glove({factor: 0.86, times: 6, change: {little: sum(...deeper)}});
		const names = (seconds: number): string[] => found(sessionOver({...drawing, seconds}, {fingers: sheet()}));
		expect(names(10)).toEqual([]);
		expect(names(14)).toEqual(['settings-stale']);
	});
});

describe('is silent', () => {
	test.each<[string, Drawing, DeclaredFingers]>([
		['where the sheet fits', glove(), sheet()],
		['without a sheet', glove(), {}],
		['at 3 % inside, the must not', glove(), sheet({ring: inside(3, 'min'), index: inside(3, 'max')})],
		['at 3 % outside, the must not', glove(), sheet({ring: outside(3, 'min'), index: outside(3, 'max')})],
		['at 9 % inside', glove(), sheet({ring: inside(9, 'max')})],
		['at 4 % outside', glove(), sheet({thumb: outside(4, 'max')})],
		['for a finger that the sheet says nothing of', glove(), Object.fromEntries(Object.entries(sheet()).slice(0, 4))],
		['after two fists', glove({times: 2}), sheet({ring: inside(20, 'min'), thumb: outside(20, 'max'), little: turned})],
		['where the whole hand closes by seven tenths', glove({depth: 0.7}), sheet()],
		['where it closes by seven tenths, and falls', glove({depth: 0.7, of: falling}), sheet({}, falling)],
		['where it opens to a relaxed hand only', glove({depth: 0.9, relaxed: 0.15}), sheet()],
		[
			'for a finger that goes half-way while no other reaches its ends',
			glove({depth: 0.9, change: {ring: halfway('ring')}}),
			sheet(),
		],
		[
			'where an end is reached once and then no more',
			glove({
				times: 4,
				change: {
					ring: sum(fists({open: 32, closed: 84, times: 4}), fists({open: 0, closed: 10, times: 1, from: 3.05})),
				},
			}),
			sheet(),
		],
		[
			'where nothing is said of the direction of the others',
			glove(),
			sheet({thumb: unsaid, index: unsaid, middle: unsaid, little: turned}),
		],
		['where as many say so as say otherwise', glove({of: ofThree}), sheet({index: turned, middle: unsaid}, ofThree)],
		[
			'where single jumps reach beyond',
			glove({times: 6, change: {ring: t => (t % 1.7 < 0.03 ? 99 : fists({open: 32, closed: 84, times: 6})(t))}}),
			sheet(),
		],
		['where all fingers go by 0.97, the must not', glove({factor: 0.97}), sheet()],
		[
			'where the whole hand closes by 0.86 and opens a little wider than when the sheet was made',
			glove({of: openBetween(0.65)}),
			sheet(),
		],
		[
			'where open hands lie so low that the factor moves them by ¾ % of the spans: fists of 0.86 look alike',
			glove({factor: 0.86, of: openAt(2.5)}),
			sheet({}, openAt(2.5)),
		],
		[
			'where the ring goes against its direction in six of eight movements: one fist was made with it stretched',
			glove({change: {ring: crossedOnce()}}),
			sheet({ring: turned}),
		],
		['while a finger is not moved', glove({change: {ring: held(50)}}), sheet({ring: turned})],
	])('%s', (_title, drawing, fingers) => {
		expect(stale(drawing, fingers)).toEqual([]);
	});
});

describe('gives way to what the same readings say of the glove', () => {
	const [open, closed] = travels.ring;
	test.each<[string, Course, string]>([
		['a reversed sensor', fists({open: closed, closed: open, times: 6}), 'reversed-sensor ring'],
		['a travel that is far too small', fists({open, closed: open + 10, times: 6}), 'narrow-span ring'],
		[
			'a range that ends at the rail',
			t => Math.max(0, fists({open: 60, closed: -20, times: 6})(t)),
			'clipped-range ring',
		],
	])('%s', (_title, ring, finding) => {
		const names = found(sessionOver(glove({times: 6, change: {ring}}), {fingers: sheet()}));
		expect(names).toContain(finding);
		expect(names.filter(name => name.startsWith('settings-stale'))).toEqual([]);
	});
});

test('says the same from a copy of an earlier state, as a replay does that goes back', () => {
	const drawing = glove({times: 5});
	const options: SessionOptions = {
		timing: 'measured',
		fullScale,
		layout: Object.keys(travels).join(','),
		fingers: sheet({ring: inside(14, 'min'), thumb: turned}),
	};
	const items = draw(drawing);
	const session = new Session(options);
	for (const item of items) if (item.t < 5.3) session.push(item);
	const checkpoint = new Checkpoint(session);
	const play = (): Session => {
		for (const item of items) if (item.t >= 5.3) session.push(item);
		return session;
	};
	const once = play().snapshot();
	checkpoint.restoreInto(session);
	expect(session.findings).toEqual([]);
	expect(play().snapshot()).toEqual(once);
	expect(once.findings.map(({code, channel}) => `${code} ${channel}`)).toEqual([
		'settings-stale thumb',
		'settings-stale ring',
	]);
});

test('says nothing of an epoch in the next: ends count anew after the board started again', () => {
	const items = draw(glove({times: 4}));
	const session = new Session({
		timing: 'measured',
		fullScale,
		layout: Object.keys(travels).join(','),
		fingers: sheet({ring: inside(14, 'min')}),
	});
	for (const item of items) session.push(item);
	session.push({t: 10, event: 'port-lost'});
	session.push({t: 11, event: 'reattached'});
	for (const item of items) if (item.t < 4) session.push({...item, t: 11 + item.t});
	session.end(15);
	const [finding] = session.findings.filter(({code}) => code === 'settings-stale');
	expect(finding.to).toBeLessThanOrEqual(11);
	const row = session.snapshot().checks.find(({code, channel}) => code === 'settings-stale' && channel === 'ring');
	expect(row?.state).toBe('waiting');
});

describe('waits', () => {
	const row = (drawing: Drawing, fingers: DeclaredFingers, channel = 'ring') =>
		sessionOver(drawing, {fingers})
			.snapshot()
			.checks.filter(check => check.code === 'settings-stale' && check.channel === channel);

	test('for the third fist', () => {
		expect(row(glove({times: 2}), sheet())).toEqual([
			{
				code: 'settings-stale',
				channel: 'ring',
				state: 'waiting',
				seen: 2,
				needed: 3,
				next: 'open and close the whole hand fully',
			},
		]);
	});

	test('for a hand that is closed where a finger does not reach its end', () => {
		const [waiting] = row(glove({depth: 0.9, change: {ring: halfway('ring')}}), sheet());
		expect(waiting).toMatchObject({state: 'waiting', next: 'open and close the whole hand fully'});
	});

	test('and is clear once the ends were visited three times', () => {
		expect(row(glove({times: 3}), sheet())[0]).toMatchObject({state: 'clear', seen: 3, needed: 3});
	});

	test('nowhere without a sheet', () => {
		expect(row(glove(), {})).toEqual([]);
	});
});

test('tells what it goes and what the sheet says, and gives the new line', () => {
	const [finding] = sessionOver(glove(), {fingers: sheet({ring: inside(12, 'min')})}).findings;
	expect(finding.evidence).toMatchObject({end: 'lower', insidePercent: expect.closeTo(12, 0), sheetMin: 1020});
	expect(finding.summary).toMatch(
		/^ring goes from 13\d\d to 34\d\d, the sheet says 1020 to 3440: its lower end lies 1\d(\.\d+)? % of that inside\.$/,
	);
	expect(finding.advice[1]).toMatch(/under ring, and into the firmware: min = 13\d\d, max = 34\d\d$/);
});

test('tells a turned direction with its line', () => {
	const [finding] = sessionOver(glove(), {fingers: sheet({ring: turned})}).findings;
	expect(finding.summary).toBe(
		'ring rises when the hand closes, in 8 of 8 movements; the sheet says that it falls (inverted = true).',
	);
	expect(finding.advice[1]).toMatch(/min = 13\d\d, max = 34\d\d, inverted = false$/);
});

test('closes when the finger reaches its end again', () => {
	const [open, closed] = travels.ring;
	const short = fists({open, closed: closed - 8, times: 4});
	const ring = sum(short, fists({open: 0, closed: closed - open, times: 4, from: 9}));
	const session = sessionOver(glove({times: 8, change: {ring: t => Math.min(closed, ring(t))}}), {fingers: sheet()});
	const [finding] = session.findings;
	expect([finding.code, finding.channel]).toEqual(['settings-stale', 'ring']);
	expect(finding.to).toBeGreaterThan(9);
	expect(finding.to).toBeLessThan(15);
});
