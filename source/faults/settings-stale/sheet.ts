import type {Features} from '../../features/features.ts';
import {high, low, type Side} from '../../features/travel-ends.ts';
import {inPercent} from '../figures.ts';
import {chances, type Gate, ground, type Limit, waitsFor} from '../gates/gate.ts';

/** What gives the next visit to both ends. */
export const wholeFist = 'open and close the whole hand fully';

/** A sheet says where both ends of this finger's travel are, in counts as they come. */
export const isDeclared: Gate = ground(
	'sheet',
	'a sheet with min and max of this finger',
	({declared, scale}, a) => declared.has(a) && !scale.foreign,
	({declared}, a) => !declared.has(a),
);

export const visitsLimit: Limit = {
	raise: 3,
	must: 3,
	mustNot: 2,
	unit: 'visits to each end of its travel, by ways of at least 40 % of its own span',
	because:
		'three whole movements: a finger that has made fewer is not judged (check-values D5.4), once or twice may be a fist that was not closed',
};

export const enoughVisits: Gate = chances('visits', ({travelEnds}, a) => travelEnds.visits(a), wholeFist);

/** Three visits within 5 % of the span of each other: what was reached once is no end. */
export const endsAreKnown: Gate = waitsFor(
	'ends',
	'ends of its travel that three visits confirm within 5 % of its span',
	({travelEnds}, a) => (travelEnds.areKnown(a) ? undefined : 'its ends differ from visit to visit'),
	wholeFist,
);

/** How far one end lies inside what the sheet says, % of the sheet's span; negative outside. */
function insideAt(features: Features, a: number, side: Side): number {
	const {declared, travelEnds} = features;
	const inside = side === low ? travelEnds.of(a, low) - declared.min[a] : declared.max[a] - travelEnds.of(a, high);
	return inPercent(inside / declared.spanOf(a));
}

/** The same by the nearest that the finger ever came to that end of the sheet, once or at rest, in the epoch. */
function insideEver(features: Features, a: number, side: Side): number {
	const {declared, analog} = features;
	const inside = side === low ? analog.spans.low[a] - declared.min[a] : declared.max[a] - analog.spans.high[a];
	return Math.min(insideAt(features, a, side), inPercent(inside / declared.spanOf(a)));
}

/** How far the end that lies farthest inside does, % of the sheet's span; undefined until both ends are known. */
export function mostInside(features: Features, a: number): number | undefined {
	return features.travelEnds.areKnown(a)
		? Math.max(insideEver(features, a, low), insideEver(features, a, high))
		: undefined;
}

/** How far the end that lies farthest outside does, % of the sheet's span; undefined until both ends are known. */
export function mostOutside(features: Features, a: number): number | undefined {
	return features.travelEnds.areKnown(a)
		? Math.max(-insideAt(features, a, low), -insideAt(features, a, high))
		: undefined;
}

/** Which end lies farthest inside (`sign` +1) or outside (−1). */
export function farthestEnd(features: Features, a: number, sign: 1 | -1): Side {
	const insideOf = sign > 0 ? insideEver : insideAt;
	return sign * insideOf(features, a, low) >= sign * insideOf(features, a, high) ? low : high;
}

/** `min = 264, max = 622`: what the sheet should say of its ends. */
export function newEnds({travelEnds}: Features, a: number): string {
	return `min = ${Math.round(travelEnds.of(a, low))}, max = ${Math.round(travelEnds.of(a, high))}`;
}

/** What to do where a finger's entry in the sheet is out of date. */
export function newLines(features: Features, a: number, lines: string): string[] {
	return [
		'glovebench fit over three whole fists — ends as below: then it is the settings',
		`Then write into the sheet, under ${features.analogName(a)}, and into the firmware: ${lines}`,
	];
}
