import {stillRange} from '../../features/analog-features.ts';
import type {Features} from '../../features/features.ts';
import {clippedBeside, sharedTop, workingMovements, workingTwice} from '../../features/working.ts';
import {listText} from '../../text/list-text.ts';
import {evidenceOf} from '../evidence.ts';
import type {Sign, Way} from '../fault.ts';
import {figure, percentFs} from '../figures.ts';
import {isFinger, isStickAxis, isWired, wholeHand} from './fingers.ts';
import {atLeast, atMost, chances, type Gate, type Limit, unless, waitsFor} from './gate.ts';

type Level = 'low' | 'mid' | 'high';
type End = 'low' | 'high';

const works: Limit = {
	raise: 4,
	must: 4,
	mustNot: 1,
	unit: 'whole-hand movements since it last moved, two closings and two openings',
	because:
		'fingers moved one at a time say nothing of the others; in 31 finger hours of real use one finger lay still while two others went there and back twice, none while the whole hand did (check-values H-real)',
};

const worksOfTwo: Limit = {
	raise: 8,
	must: null,
	mustNot: 1,
	unit: 'whole-hand movements since it last moved, where only two other fingers are wired',
	because:
		'one finger lay still while two others went there and back twice once in 31 finger hours of real use (check-values H-real): four times makes it rarer than a false finding in 100 hours',
};

const others: Limit = {
	raise: 3,
	must: 3,
	mustNot: null,
	unit: 'other fingers that move by themselves, or all where there are fewer',
	because: 'one finger that is moved and the pins that copy it are no hand (check-values D5.4)',
};

const within: Limit = {
	raise: 1,
	must: 1,
	mustNot: null,
	unit: 'of the range of a channel that does nothing (quarter-second means within 0.3 % FS or 3 rest noises, at most 1.5 % FS)',
	because:
		'0.3 % FS is converter noise; a finger that moves at all turns the spool by more: 1 mm of cord on a 16 mm spool is 2.6 % FS (circumference, 270° track)',
};

const atEnd: Limit = {
	raise: 1,
	clear: 2,
	must: 1,
	mustNot: null,
	unit: '% FS from that end',
	because: 'converter offset and a wire that is not quite zero ohms stay below 1 % FS (common practice, no source)',
};

/** As `works`, where a hand of two other fingers is easily mistaken for a whole one. */
function ofTwo(since: (features: Features, a: number) => number): Gate {
	return chances(
		'worksOfTwo',
		(features, a) =>
			(features.handAt(a)?.others(a).length ?? 0) > 2
				? Number.POSITIVE_INFINITY
				: workingTwice(features, a, since(features, a)),
		whoIsStill,
	);
}

/** One finger that is moved, and pins that copy it, are no hand. */
function handOfFingers(since: (features: Features, a: number) => number): Gate {
	return waitsFor(
		'copies',
		'three other fingers that move by themselves',
		(features, a) => {
			const {proof, analog} = features;
			const beside = features.handAt(a)?.others(a) ?? [];
			const from = since(features, a);
			const own = beside.filter(f => proof.isItselfAside(f) && analog.trips.hasBegunSince(f, from)).length;
			return own >= Math.min(others.raise, beside.length)
				? undefined
				: `${own} of ${beside.length} others moved otherwise than the channel read before them`;
		},
		wholeHand,
	);
}

/** A channel that moves now is not stuck, whatever the hand did before. */
function holdsStill(since: (features: Features, a: number) => number): Gate {
	return unless('moves', 'a channel that does not move', (features, a) =>
		features.now - since(features, a) < 2 * features.blockSeconds && since(features, a) > features.epochFrom
			? 'it moved just now'
			: undefined,
	);
}

const goes: Limit = {
	raise: 3,
	must: null,
	mustNot: null,
	unit: 'times that range there and back is a movement',
	because:
		'quick taps leave quarter-second means as they are; converter noise and what leaks from a neighbour stay below',
};

const goesNowhere: Gate = unless('goes', 'a channel that makes no trip', ({analog, scale}, a) => {
	const least = goes.raise * stillRange(analog.noise.of(a), scale.fullScale);
	return analog.trips.hasGoneSince(a, analog.still.since[a], least)
		? 'it went to and fro, too quickly for its means to show'
		: undefined;
});

/** Nothing but noise since it last moved, while the hand works, at one of three levels. */
export function stillWay(level: Level): Way {
	return {
		name: 'still',
		limits: {works, worksOfTwo, others, within, goes},
		gates: [
			isFinger,
			chances('works', (features, a) => workingMovements(features, a, features.analog.still.since[a]), whoIsStill),
			ofTwo(({analog}, a) => analog.still.since[a]),
			handOfFingers(({analog}, a) => analog.still.since[a]),
			holdsStill(({analog}, a) => analog.still.since[a]),
			goesNowhere,
			atMost('within', (features, a) => features.analog.still.shareOfLimit[a]),
			unless('level', `a level that is ${level}`, (features, a) => {
				const seen = levelOf(features, a);
				return seen === level ? undefined : `it lies ${seen}`;
			}),
			...(level === 'mid' ? [] : [leftBefore(({analog}, a) => analog.still.since[a])]),
		],
		sign: (features, a) => {
			const {still} = features.analog;
			const mean = (still.low[a] + still.high[a]) / 2;
			return signOf(features, a, still.since[a], mean, workingMovements(features, a, still.since[a]));
		},
	};
}

/** At one end of the scale while the hand works, and never far from it. */
export function endWay(end: End): Way {
	const since = ({analog}: Features, a: number): number => analog.still.nearSince(a, end);
	const distance = ({analog}: Features, a: number): number => analog.still.meanFrom(a, end);
	return {
		name: 'end',
		limits: {works, worksOfTwo, others, atEnd},
		gates: [
			isFinger,
			chances('works', (features, a) => workingMovements(features, a, since(features, a)), whoIsStill),
			ofTwo(since),
			handOfFingers(since),
			holdsStill(since),
			atMost('atEnd', (features, a) => features.percent(distance(features, a))),
			leftBefore(since),
		],
		sign: (features, a) => {
			const {railLow, railHigh} = features.scale;
			const mean = end === 'low' ? railLow + distance(features, a) : railHigh - distance(features, a);
			return signOf(features, a, since(features, a), mean, workingMovements(features, a, since(features, a)));
		},
	};
}

/** A stick axis that lies at a rail. */
export function railWay(end: End): Way {
	const since = ({analog}: Features, a: number): number => analog.still.nearSince(a, end);
	return {
		name: 'stick axis at a rail',
		limits: {
			seconds: {
				raise: 3,
				clear: 0,
				must: 3,
				mustNot: null,
				unit: 's at a rail',
				because: 'nobody holds a stick against its stop for so long unasked (check-values D5.4)',
			},
			atEnd: {...atEnd, because: `within 1 % FS of the rail (check-values D5.4); ${atEnd.because}`},
		},
		gates: [
			isStickAxis,
			isWired,
			chances('seconds', features => features.watchedSeconds, 'leave the stick alone for three seconds'),
			atMost('atEnd', (features, a) => features.percent(distanceNow(features, a, end))),
			atLeast('seconds', (features, a) => features.now - since(features, a)),
		],
		sign: (features, a) => ({
			from: since(features, a),
			summary: `${features.analogName(a)} has lain at ${percentFs(features, endLevel(features, end))} % FS for ${figure(features.now - since(features, a))} s.`,
			evidence: evidenceOf({
				levelPercentFs: percentFs(features, endLevel(features, end)),
				seconds: figure(features.now - since(features, a)),
			}),
		}),
	};
}

function endLevel({scale}: Features, end: End): number {
	return end === 'low' ? 0 : scale.fullScale;
}

function distanceNow({analog, scale}: Features, a: number, end: End): number {
	const {rows} = analog;
	const at = rows.at(rows.count - 1, a);
	return end === 'low' ? rows.high[at] - scale.lowOf(a) : scale.highOf(a) - rows.low[at];
}

/** Low and high are the ends of the scale, or the firmware's own top where its fingers share one. */
function levelOf(features: Features, a: number): Level {
	const {still} = features.analog;
	const {railLow, fullScale} = features.scale;
	const mean = (still.low[a] + still.high[a]) / 2;
	if (features.percent(mean - railLow) <= atEnd.raise) return 'low';
	const top = sharedTop(features, a) ?? railLow + fullScale;
	return features.percent(top - mean) <= atEnd.raise ? 'high' : 'mid';
}

/** A rail that firmware clips its fingers to is where a finger rests that has been elsewhere before. */
function leftBefore(since: (features: Features, a: number) => number): Gate {
	return unless('clips', 'an end that the firmware does not clip to', (features, a) =>
		clippedBeside(features, a) > 1 && since(features, a) > features.epochFrom + features.blockSeconds
			? 'two other fingers use both rails, and it has been elsewhere'
			: undefined,
	);
}

function signOf(features: Features, a: number, from: number, mean: number, movements: number): Sign {
	const level = percentFs(features, mean - features.scale.railLow);
	return {
		from,
		summary: `${features.analogName(a)} has stayed at ${level} % FS while the whole hand closed and opened.`,
		evidence: evidenceOf({levelPercentFs: level, levelCounts: Math.round(mean), movements}),
	};
}

/** Which fingers have moved and which have not, and what to do. */
function whoIsStill(features: Features, a: number): string {
	const {fingers} = features.handAt(a) ?? {fingers: []};
	const has = (f: number): boolean => features.analog.trips.count[f] > 0;
	const moved = fingers.filter(f => features.isFinger(f) && has(f));
	const still = fingers.filter(f => features.isFinger(f) && !has(f));
	const names = (places: readonly number[]): string => listText(places.map(f => features.analogName(f)));
	if (moved.length === 0 || still.length === 0) return 'open and close the whole hand twice';
	const verb = (places: readonly number[]): string => (places.length === 1 ? 'has' : 'have');
	return moved.length > 2
		? `${names(still)} ${verb(still)} not moved yet, the others have: move ${still.length === 1 ? 'it' : 'them'} with the whole hand`
		: `${names(still)} ${verb(still)} not moved, ${names(moved)} ${verb(moved)}: move all together`;
}
