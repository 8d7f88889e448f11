import type {Features} from '../../features/features.ts';
import {evidenceOf} from '../evidence.ts';
import type {Way} from '../fault.ts';
import {inPercent} from '../figures.ts';
import {isFinger, wholeHand} from '../gates/fingers.ts';
import {atLeast, chances, type Gate, type Limit, lasting, waitsFor} from '../gates/gate.ts';
import {isDeclared, newEnds, newLines} from './sheet.ts';

const movementsLimit: Limit = {
	raise: 3,
	must: 3,
	mustNot: 2,
	unit: 'closings, and as many openings, of the whole hand in which the finger goes at least 40 % of its own span',
	because: 'three whole movements, there and back (check-values D5.4): a gesture that is made again comes twice',
};

const againstLimit: Limit = {
	raise: 90,
	clear: 50,
	must: 90,
	mustNot: null,
	unit: '% of those movements in which its readings go otherwise than the sheet says',
	because: 'one in ten may have been made otherwise, as for reversed-sensor',
};

const saysDirection: Gate = lasting(
	'inverted',
	'a sheet that says whether its reading falls as the finger bends',
	({declared}, a) => !Number.isNaN(declared.sense[a]),
);

/** Which of the hand's ways is the closing one is known by what the sheet says of most of the others. */
const othersAgree: Gate = waitsFor(
	'others',
	'two other fingers at least whose direction the sheet gives, most of which go the same way by it',
	(features, a) =>
		features.closingSenses.against(features, a) === undefined ? 'too few others that agree about it' : undefined,
	wholeHand,
);

function againstShare(features: Features, a: number): number | undefined {
	const {closingSenses} = features;
	const against = closingSenses.against(features, a);
	const of = closingSenses.measured(a);
	return against === undefined || of === 0 ? undefined : inPercent(against / of);
}

/** The finger's readings go otherwise than its `inverted` says, by what the sheet says of the others. */
export const directionWay: Way = {
	name: 'direction',
	limits: {movements: movementsLimit, against: againstLimit},
	gates: [
		isFinger,
		isDeclared,
		saysDirection,
		chances('movements', ({closingSenses}, a) => closingSenses.whole(a), wholeHand),
		othersAgree,
		atLeast('against', againstShare),
	],
	sign: (features, a) => {
		const {closingSenses, declared, travelEnds} = features;
		const name = features.analogName(a);
		const isFalling = declared.sense[a] < 0;
		const against = closingSenses.against(features, a) ?? 0;
		const of = closingSenses.measured(a);
		const line = `inverted = ${isFalling ? 'false' : 'true'}`;
		return {
			from: closingSenses.firstAt(a),
			summary: `${name} ${isFalling ? 'rises' : 'falls'} when the hand closes, in ${against} of ${of} movements; the sheet says that it ${isFalling ? 'falls' : 'rises'} (inverted = ${isFalling}).`,
			evidence: evidenceOf({against, of, sheetInverted: String(isFalling)}),
			advice: newLines(features, a, travelEnds.areKnown(a) ? `${newEnds(features, a)}, ${line}` : line),
		};
	},
};
