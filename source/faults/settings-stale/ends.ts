import type {Features} from '../../features/features.ts';
import {high, low} from '../../features/travel-ends.ts';
import {evidenceOf} from '../evidence.ts';
import type {Sign, Way} from '../fault.ts';
import {figure} from '../figures.ts';
import {isFinger} from '../gates/fingers.ts';
import {isUnscaled} from '../gates/firmware-scales.ts';
import {atLeast, type Gate, type Limit, waitsFor} from '../gates/gate.ts';
import {isOfItsOwn} from './one-factor.ts';
import {
	endsAreKnown,
	enoughVisits,
	farthestEnd,
	isDeclared,
	mostInside,
	mostOutside,
	newEnds,
	newLines,
	visitsLimit,
	wholeFist,
} from './sheet.ts';

const insideLimit: Limit = {
	raise: 9.5,
	clear: 5.5,
	must: 10,
	mustNot: 3,
	unit: "% of the sheet's span between an end and the sheet's, inside",
	because:
		'as near to the 10 (check-values D5.4) as noise allows: depths of fists differ by up to a tenth (common practice, no source), and three in a row may all be shallow; by the nearest that the finger ever came; over at the geometric mean of the two',
};

const outsideLimit: Limit = {
	raise: 4.9,
	clear: 3.9,
	must: 5,
	mustNot: 3,
	unit: "% of the sheet's span between an end and the sheet's, outside",
	because:
		'as near to the 5 (check-values D5.4) as rounding allows: a hand that sways where it arrives takes the end of a short travel some 3 % too far; over at the geometric mean of the two',
};

const closedLimit: Limit = {
	raise: 3,
	must: null,
	mustNot: null,
	unit: 'whole-hand movements towards that end in which another finger reached its own, within 5 % of its span in the sheet',
	because:
		'half a fist is not stale: beside another finger at its end the hand was closed, or opened; as often as an end is visited',
};

const othersLimit: Limit = {
	raise: 2,
	must: null,
	mustNot: null,
	unit: 'other fingers whose ends are known, or all that move',
	because: 'with fewer it is not known whether all are off by one factor (three fingers)',
};

/** Other wired fingers of the hand of which the sheet gives the ends. */
function declaredOthers(features: Features, a: number): number[] {
	return (features.handAt(a)?.others(a) ?? []).filter(f => features.declared.has(f));
}

/** Whether it is one factor for all shows once others' ends are known as well. */
const othersAreKnown: Gate = waitsFor(
	'others',
	'other fingers whose ends are known, as far as they move',
	(features, a) => {
		const {travelEnds, analog} = features;
		const others = declaredOthers(features, a);
		const known = others.filter(f => travelEnds.areKnown(f)).length;
		const unknown = others.filter(f => !travelEnds.areKnown(f) && analog.trips.count[f] > 0).length;
		return known >= othersLimit.raise || unknown === 0 ? undefined : `the ends of ${known} other fingers are known`;
	},
	wholeFist,
);

/** A hand that was closed half-way, or that only relaxed, says nothing of the sheet. */
const wasClosed: Gate = waitsFor(
	'closed',
	'whole-hand movements towards that end in which another finger reached its own',
	(features, a) => {
		const reached = features.closingSenses.reachedBeside(a, farthestEnd(features, a, 1));
		return reached >= closedLimit.raise ? undefined : `${reached} of ${closedLimit.raise}`;
	},
	wholeFist,
);

function signOf(features: Features, a: number, sign: 1 | -1, off: number): Sign {
	const {travelEnds, declared} = features;
	const name = features.analogName(a);
	const end = farthestEnd(features, a, sign) === low ? 'lower' : 'upper';
	const where = sign > 0 ? 'inside' : 'outside';
	const lowest = Math.round(travelEnds.of(a, low));
	const highest = Math.round(travelEnds.of(a, high));
	return {
		from: travelEnds.firstAt(a),
		summary: `${name} goes from ${lowest} to ${highest}, the sheet says ${declared.min[a]} to ${declared.max[a]}: its ${end} end lies ${figure(off)} % of that ${where}.`,
		evidence: evidenceOf({
			end,
			[sign > 0 ? 'insidePercent' : 'outsidePercent']: figure(off),
			lowCounts: lowest,
			highCounts: highest,
			sheetMin: declared.min[a],
			sheetMax: declared.max[a],
			visits: travelEnds.visits(a),
		}),
		advice: newLines(features, a, newEnds(features, a)),
	};
}

/** The finger no longer reaches an end of the sheet, while another one reaches both of its own. */
export const insideWay: Way = {
	name: 'inside',
	limits: {visits: visitsLimit, inside: insideLimit, others: othersLimit, closed: closedLimit},
	gates: [
		isFinger,
		isDeclared,
		enoughVisits,
		endsAreKnown,
		isUnscaled,
		atLeast('inside', mostInside),
		othersAreKnown,
		isOfItsOwn,
		wasClosed,
	],
	sign: (features, a) => signOf(features, a, 1, mostInside(features, a) ?? 0),
};

/** The finger goes beyond an end of the sheet. */
export const outsideWay: Way = {
	name: 'outside',
	limits: {visits: visitsLimit, outside: outsideLimit, others: othersLimit},
	gates: [
		isFinger,
		isDeclared,
		enoughVisits,
		endsAreKnown,
		isUnscaled,
		atLeast('outside', mostOutside),
		othersAreKnown,
		isOfItsOwn,
	],
	sign: (features, a) => signOf(features, a, -1, mostOutside(features, a) ?? 0),
};
