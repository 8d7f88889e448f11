import {fQuantile} from './f-quantile.ts';
import {addOuter, inverted, nearestRotation, zeros} from './linear.ts';
import {type Region, sureShare} from './region.ts';
import {apply, cross, dot, length, type Matrix, plus, type Vector} from './rotation.ts';

/** A direction seen in the tracker's axes, and the same as it is known in the hand's. Unit vectors. */
export type Sighting = {readonly seen: Vector; readonly known: Vector};

export type Wahba = {
	/** Takes the hand's axes to the tracker's. */
	readonly rotation: Matrix;
	/** Root of the sum of squared distances |d − R h|². */
	readonly rootSum: number;
	/** A mirror image of the hand fits better than any rotation of it. */
	readonly isMirror: boolean;
	/** Standard deviation of a direction across its line, rad; undefined where nothing is left over to tell it from. */
	readonly spread: number | undefined;
	/** Of small turns about the tracker's axes, rad; undefined where the spread is, or where one line is all there is. */
	readonly region: Region | undefined;
};

/** Two lines nearer to each other than this tell nothing of the turn about them: sin 20°, a third of what a hand keeps to easily. */
const leastSine = 0.34;

/**
 * The rotation that takes known directions to seen ones best: Wahba's problem. With the scatter of what is left,
 * s² = Σ|d × R h|²/(2n − 3), and the region 3·F(3, 2n − 3). Undefined with fewer than two lines.
 *
 * Source: Wahba, SIAM Review 7 (1965), 409; Markley, Journal of the Astronautical Sciences 36 (1988), 245–258; covariance:
 * Shuster & Oh, Journal of Guidance and Control 4 (1981), 70–77.
 */
export function solveWahba(sightings: readonly Sighting[]): Wahba | undefined {
	const lines = sightings.some(({seen}, index) =>
		sightings.slice(index + 1).some(other => length(cross(seen, other.seen)) > leastSine),
	);
	const isKnown = sightings.some(({known}) => length(cross(known, sightings[0].known)) > leastSine);
	if (!lines || !isKnown) return undefined;
	const b = zeros();
	for (const {seen, known} of sightings) addOuter(b, seen, known);
	const {rotation, isMirror, singular} = nearestRotation(b as unknown as Matrix);
	let squares = 0;
	let sines = 0;
	const information = zeros();
	for (const {seen, known} of sightings) {
		const should = apply(rotation, known);
		squares += length(plus(seen, should, -1)) ** 2;
		sines += length(cross(seen, should)) ** 2 + (dot(seen, should) < 0 ? 1 : 0);
		addOuter(information, seen, seen, -1);
		for (const k of [0, 4, 8]) information[k] += 1;
	}
	const freedom = 2 * sightings.length - 3;
	const spread = freedom < 1 ? undefined : Math.sqrt(sines / freedom);
	const back = inverted(information as unknown as Matrix);
	const region: Region | undefined =
		spread === undefined || back === undefined
			? undefined
			: {
					covariance: back.map(value => value * spread ** 2) as unknown as Matrix,
					factor: 3 * fQuantile(sureShare, 3, freedom),
				};
	// Of two lines the third singular value is 0, and its sign says nothing.
	const hasThree = singular[2] > leastSine * singular[1] * leastSine;
	return {rotation, rootSum: Math.sqrt(squares), isMirror: isMirror && hasThree, spread, region};
}
