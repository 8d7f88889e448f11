import {expect, test} from 'vitest';
import {Session} from '../../source/session/session.ts';
import {type Course, type Drawing, found, held, readings, sessionOver} from '../gloves/draw.ts';
import {type FingerName, fistsOf, fiveFingers} from '../gloves/five-fingers.ts';

// Check-values D5.4, wrong-full-scale: a value above the declared scale; channels pinned at 1023; whole numbers below 0 on a finger;
// 4095 declared and nothing above 1023; and, as a question only, spans of at most 5 % FS on every finger.

type Own = Partial<Record<FingerName, Course>>;
const glove = (own: Own = {}, more: Partial<Drawing> = {}, times = 4): Drawing => ({
	channels: fiveFingers(own, {times}),
	seconds: 2 * times + 2,
	...more,
});
const twelveBit = {fullScale: 4095};

type Case = [drawing: Drawing, fullScale: number, onTheWay?: (reading: number, column: number) => number];

/** A session over a glove where `fullScale` is declared; readings may be changed on their way. */
function sessionOf([drawing, fullScale, onTheWay = r => r]: Case): Session {
	const {rate = 100} = drawing;
	const session = new Session({timing: 'measured', fullScale, layout: Object.keys(drawing.channels).join(',')});
	const encoder = new TextEncoder();
	readings(drawing).forEach((row, frame) => {
		session.push({t: frame / rate, bytes: encoder.encode(`${row.map(onTheWay).join(',')}\n`)});
	});
	session.end(drawing.seconds);
	return session;
}

/** What it says of the scale. */
const said = (...what: Case): string[] => found(sessionOf(what)).filter(code => code === 'wrong-full-scale');

/** Firmware that limits 12-bit readings to 10 bit. */
const limited = (reading: number): number => Math.min(1023, reading);

/** A glove on a 12-bit board whose readings stay below 1023, but for `frames` frames of the index finger. */
function leaping(frames: number): Drawing {
	const low = (name: FingerName): Course => fistsOf(name, {open: 5, closed: 20});
	return glove(
		{
			thumb: low('thumb'),
			index: t => (t >= 3.5 && t < 3.5 + frames / 100 - 0.005 ? 40 : low('index')(t)),
			middle: low('middle'),
			ring: low('ring'),
			little: low('little'),
		},
		twelveBit,
	);
}

/**
 * Fists of which the closed hand lies beyond a quarter of 12 bit: from `open` to `closed` % FS. Fingers that are left out stay
 * below that quarter.
 */
const beyondTenBit = (open: number, closed: number, fingers: readonly FingerName[]): Own =>
	Object.fromEntries(
		(['thumb', 'index', 'middle', 'ring', 'little'] as const).map(name => [
			name,
			fingers.includes(name) ? fistsOf(name, {open, closed}) : fistsOf(name, {open: 5, closed: 21}),
		]),
	);
const three: FingerName[] = ['index', 'middle', 'ring'];

/** Two fingers that go beyond 10 bit, one that ends just there, and the ring, which lies beyond it and is moved late if at all. */
const oneNotMoved = (ring: Course): Own => ({
	...beyondTenBit(10, 40, ['index', 'middle']),
	thumb: fistsOf('thumb', {open: 5, closed: 24.8}),
	ring,
});

/** Three fingers closed for a share of their time: one fist of so many seconds in every four. */
function pinnedFor(seconds: number): Drawing {
	const own = Object.fromEntries(
		three.map(name => {
			const course = fistsOf(name, {open: 10, closed: 40, from: 2.5, times: 1, way: 0.2, period: 2 * seconds});
			return [name, (t: number): number => course(t % 4)] as const;
		}),
	);
	return glove({...beyondTenBit(0, 0, []), ...own}, {...twelveBit, seconds: 24});
}

const flipped =
	(...columns: readonly number[]) =>
	(reading: number, column: number): number =>
		columns.includes(column) ? 1023 - reading : reading;

const narrow = (span: number, times: number): Drawing =>
	glove(
		Object.fromEntries(
			(['thumb', 'index', 'middle', 'ring', 'little'] as const).map((name, f) => [
				name,
				fistsOf(name, {open: 30, closed: 30 + span - 0.1 * f, times}),
			]),
		),
		{noise: 0.03, ...twelveBit},
		times,
	);

test.each<[string, ...Case]>([
	['12 bit where 10 is declared', glove({}, {...twelveBit, seconds: 5}), 1023],
	['five readings above the declared scale in a row', leaping(5), 1023],
	['12 bit limited to 10 on three fingers', glove(beyondTenBit(10, 40, three), twelveBit), 1023, limited],
	['three fingers that lie at 1023 for a quarter of their time', pinnedFor(1), 1023, limited],
	['one finger flipped with 1023 on a 12-bit board', glove({}, twelveBit), 4095, flipped(3)],
	[
		'10 bit where 12 is declared: three fingers come near its top',
		glove(Object.fromEntries(three.map(name => [name, fistsOf(name, {closed: 99})]))),
		4095,
	],
	[
		'10 bit where 12 is declared: a stick rests at 511',
		{channels: {...fiveFingers(), 'stick-x': held(50), 'stick-y': held(51)}, seconds: 10},
		4095,
	],
	['every finger uses 4 % of the scale', narrow(4, 4), 4095],
	['every finger uses 4 % of the scale, in exactly three fists', narrow(4, 3), 4095],
])('is raised: %s', (_title, ...what) => {
	expect(said(...what)).toEqual(['wrong-full-scale']);
});

test.each<[string, ...Case]>([
	['10 bit as declared', glove(), 1023],
	['12 bit as declared', glove({}, twelveBit), 4095],
	['two seconds after the first reading above', glove({}, {...twelveBit, seconds: 3.2}), 1023],
	['three readings above the declared scale in a row: damaged lines', leaping(3), 1023],
	['two fingers that lie at 1023', glove(beyondTenBit(10, 40, ['index', 'middle']), twelveBit), 1023, limited],
	['three fingers that lie at 1023 for a seventh of their time', pinnedFor(0.6), 1023, limited],
	[
		'fingers that read exactly 0 as well: the firmware scales',
		glove(beyondTenBit(-10, 40, three), twelveBit),
		1023,
		limited,
	],
	['a glove all of whose numbers are signed', glove({}, twelveBit), 4095, reading => reading - 2048],
	[
		'12 bit is declared and two fingers end near 1023',
		glove(beyondTenBit(5, 24.7, ['index', 'middle']), twelveBit),
		4095,
	],
	['12 bit is declared and readings go up to 1200', glove(beyondTenBit(5, 29, three), twelveBit), 4095],
	[
		'12 bit limited to 10 where 12 is declared, before the fingers have moved twice: not taken for 10 bit',
		glove(beyondTenBit(10, 40, three), {...twelveBit, seconds: 4}),
		4095,
		limited,
	],
	[
		'12 bit limited to 10 where 12 is declared, one of three fingers at 1023 not moved yet: not taken for 10 bit',
		glove(oneNotMoved(held(40)), twelveBit),
		4095,
		limited,
	],
	['the widest finger uses 6 % of the scale', narrow(6, 4), 4095],
	['every finger uses 4 % of the scale, in two fists', narrow(4, 2), 4095],
])('is silent: %s', (_title, ...what) => {
	expect(said(...what)).toEqual([]);
});

const nearTop = (share: number): Own => Object.fromEntries(three.map(name => [name, fistsOf(name, {closed: share})]));

test.each<[string, number, string, ...Case]>([
	['12 bit where 10 is declared', 4095, 'host', glove({}, twelveBit), 1023],
	['10 bit where 12 is declared', 1023, 'host', glove(nearTop(99)), 4095],
	[
		'10 bit where 12 is declared, two fingers at its end',
		1023,
		'host',
		glove({
			...nearTop(99),
			index: held(100),
			middle: held(100),
			thumb: fistsOf('thumb', {closed: 99}),
			little: fistsOf('little', {closed: 99}),
		}),
		4095,
	],
	[
		'12 bit limited to 10 where 12 is declared',
		4095,
		'set that in the firmware',
		glove(beyondTenBit(10, 40, three), twelveBit),
		4095,
		limited,
	],
	[
		'12 bit limited to 10 where 12 is declared, once the third of its fingers has moved',
		4095,
		'set that in the firmware',
		glove(oneNotMoved(fistsOf('ring', {open: 40, closed: 10, from: 9.5, times: 2})), {...twelveBit, seconds: 14}),
		4095,
		limited,
	],
	[
		'10 bit scaled by its firmware where 12 is declared',
		1023,
		'host',
		glove(beyondTenBit(-10, 40, three), twelveBit),
		4095,
		limited,
	],
])('says which scale it is and where to set it: %s', (_title, shouldBe, where, ...what) => {
	const {findings} = sessionOf(what).snapshot();
	const finding = findings.find(({code}) => code === 'wrong-full-scale');
	expect(finding?.evidence).toMatchObject({shouldBe, set: what[1]});
	expect(finding?.summary).toContain(where);
});

test('narrow fingers are a question, no fault', () => {
	const [finding] = sessionOver(narrow(4, 4)).findings;
	expect([finding.code, finding.status]).toEqual(['wrong-full-scale', 'function-check']);
});
