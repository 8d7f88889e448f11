import type {Features} from '../../features/features.ts';
import {high, low} from '../../features/travel-ends.ts';
import {medianOf} from '../../math/nth-smallest.ts';
import {evidenceOf} from '../evidence.ts';
import type {Way} from '../fault.ts';
import {figure, inPercent} from '../figures.ts';
import {whyScaled} from '../gates/firmware-scales.ts';
import {atLeast, atMost, chances, type Gate, ground, type Limit, lasting, unless, waitsFor} from '../gates/gate.ts';
import {newEnds, visitsLimit, wholeFist} from './sheet.ts';

/** Fewer fingers are no "all". */
const fingersLimit: Limit = {
	raise: 3,
	must: 3,
	mustNot: 1,
	unit: 'fingers that the sheet gives ends of, and that move',
	because:
		'two fingers agree within a few per cent by chance; a supply or a full scale is shared by all (check-values D5.4)',
};

const spreadLimit: Limit = {
	raise: 3,
	clear: 5,
	must: 3,
	mustNot: null,
	unit: "% between any finger's factor and the middle one",
	because: 'ends are confirmed to a few per cent of the span; another hand differs by more from finger to finger',
};

const factorLimit: Limit = {
	raise: 5,
	clear: 4,
	must: 10,
	mustNot: 3,
	unit: '% between the common factor and 1',
	because:
		'the geometric mean of the two is 5.5; from 5 % on single ends lie as far outside as would be told of each finger',
};

const openHandLimit: Limit = {
	raise: 0.5,
	must: 0,
	mustNot: 1,
	unit: 'of the way from levels of the open hand that went by the factor too (0) to those of the sheet (1)',
	because:
		'half-way: supply and full scale move every level in proportion to itself; a hand that closes half-way leaves the open end where it was, and one that only relaxes moves it the other way',
};

const tellingLimit: Limit = {
	raise: 1,
	must: null,
	mustNot: null,
	unit: '% of the spans by which the factor has to move the open ends',
	because:
		'below that the scatter of the open hand (about 1 % of the span; common practice, no source) hides which of the two it is',
};

/** What the ends of several fingers have in common. */
type CommonFactor = {
	readonly fingers: readonly number[];
	/** The middle one of their spans by those of the sheet. */
	readonly factor: number;
	/** The largest deviation of a finger's own factor from it, share of it. */
	readonly spread: number;
	/** See `openHand`; undefined where the open ends lie too near 0 to tell. */
	readonly openHand: number | undefined;
};

/** Wired fingers that the sheet gives ends of, and that move. */
function movingFingers(features: Features): number[] {
	const {declared, analog, hands} = features;
	return hands
		.flatMap(({fingers}) => fingers)
		.filter(f => features.isFinger(f) && declared.has(f) && analog.trips.count[f] > 0);
}

/** Of those whose ends are known; undefined below three. */
function commonFactor(features: Features): CommonFactor | undefined {
	const {declared, travelEnds} = features;
	const fingers = movingFingers(features).filter(f => travelEnds.areKnown(f));
	if (fingers.length < fingersLimit.raise) return undefined;
	const factors = fingers.map(f => travelEnds.spanOf(f) / declared.spanOf(f));
	const factor = medianOf(factors);
	const spread = Math.max(...factors.map(one => Math.abs(one / factor - 1)));
	return {fingers, factor, spread, openHand: openHandOf(features, fingers, factor)};
}

function openHandOf(features: Features, fingers: readonly number[], factor: number): number | undefined {
	const {declared, travelEnds, scale} = features;
	let seen = 0;
	let said = 0;
	let spans = 0;
	for (const f of fingers) {
		const isFalling = declared.sense[f] < 0;
		seen += travelEnds.of(f, isFalling ? high : low) - scale.railLow;
		said += (isFalling ? declared.max[f] : declared.min[f]) - scale.railLow;
		spans += declared.spanOf(f);
	}
	const moved = said * (1 - factor);
	return inPercent(Math.abs(moved) / spans) >= tellingLimit.raise ? (seen - said * factor) / moved : undefined;
}

/** Whether a factor is told of all fingers together, as far as their ends are known: then it is none of single ones. */
function isOfAll(common: CommonFactor): boolean {
	const {factor, spread, openHand} = common;
	return (
		inPercent(spread) <= spreadLimit.raise &&
		inPercent(Math.abs(factor - 1)) >= factorLimit.raise &&
		openHand !== undefined &&
		openHand <= openHandLimit.raise
	);
}

/** What is wrong with all fingers alike is told of all together. */
export const isOfItsOwn: Gate = unless(
	'ofItsOwn',
	'ends that are off by themselves, not by one factor for all',
	features => {
		const common = commonFactor(features);
		return common !== undefined && isOfAll(common)
			? `${common.fingers.length} fingers have ${figure(common.factor)} times the span of the sheet`
			: undefined;
	},
);

const areTogether: Gate = lasting('together', 'all fingers together', (_features, place) => place < 0);

const areDeclared: Gate = ground(
	'sheet',
	'a sheet with min and max of three fingers',
	({declared, hands, scale}) =>
		!scale.foreign && hands.flatMap(({fingers}) => fingers.filter(f => declared.has(f))).length >= fingersLimit.raise,
	({declared, hands}) => !hands.some(({fingers}) => fingers.some(f => declared.has(f))),
);

const areKnown: Gate = waitsFor(
	'ends',
	'ends of all fingers that move, confirmed by three visits within 5 % of the span',
	features =>
		movingFingers(features).every(f => features.travelEnds.areKnown(f))
			? undefined
			: 'ends that differ from visit to visit',
	wholeFist,
);

const areUnscaled: Gate = unless('unscaled', "ends of the scale that are the converter's own", features => {
	for (const f of movingFingers(features)) {
		const why = whyScaled(features, f);
		if (why !== undefined) return why;
	}
	return undefined;
});

/** Every finger's travel is by one factor what the sheet says, and so are its levels. */
export const oneFactorWay: Way = {
	name: 'one factor',
	limits: {
		fingers: fingersLimit,
		visits: visitsLimit,
		spread: spreadLimit,
		factor: factorLimit,
		openHand: openHandLimit,
		telling: tellingLimit,
	},
	gates: [
		areTogether,
		areDeclared,
		chances('fingers', features => movingFingers(features).length, wholeFist),
		chances('visits', features => leastVisits(features), wholeFist),
		areKnown,
		areUnscaled,
		atMost('spread', features => inPercentOf(commonFactor(features)?.spread)),
		atLeast('factor', features => inPercentOf(offOf(commonFactor(features)))),
		atMost('openHand', features => commonFactor(features)?.openHand),
	],
	sign: features => {
		const {fingers, factor} = commonFactor(features) ?? {fingers: [], factor: 1};
		const {travelEnds} = features;
		return {
			from: Math.min(...fingers.map(f => travelEnds.firstAt(f))),
			summary: `All fingers by ${figure(factor)}: supply or full scale. ${fingers.length} fingers have that part of the travel that the sheet gives them, and their levels too.`,
			evidence: evidenceOf({factor: figure(factor), fingers: fingers.length}),
			advice: [
				"Supply at a pot's outer lugs, and full scale of the board — as when the sheet was made",
				`If both are as they should be, glovebench fit; then in the sheet and in the firmware ${fingers.map(f => `${features.analogName(f)}: ${newEnds(features, f)}`).join('; ')}`,
			],
		};
	},
};

function leastVisits(features: Features): number {
	const fingers = movingFingers(features);
	return fingers.length === 0 ? 0 : Math.min(...fingers.map(f => features.travelEnds.visits(f)));
}

function offOf(common: CommonFactor | undefined): number | undefined {
	return common && Math.abs(common.factor - 1);
}

function inPercentOf(share: number | undefined): number | undefined {
	return share === undefined ? undefined : inPercent(share);
}
