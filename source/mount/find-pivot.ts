import {fitPivot, joined, noPivotSums, type PivotSums, pivotSums, residual, turningSpread} from './pivot-sums.ts';
import {indexAt, type Poses, type Span} from './poses.ts';
import {degree, type Vector} from './rotation.ts';
import {type Bin, isStill} from './stillness.ts';

/** The search goes in steps of so many bins: a quarter of a second. */
const stepBins = 2;

/** A pivot is looked for in stretches of this length first: long enough to turn two ways in. */
const seedSteps = 24;

/** Share of a seed in which the hand must move: two poses held with a way between them can look like a pivot. */
const leastMoving = 0.75;

/** Least turning of a seed, rad rms about its main axis. */
const leastTurning = 4 * degree;

/** What belongs to a pivot strays from its point no more than this times the pivot's own rms, or than so many mm. */
const strayFactor = 3;
const strayMm = 8;

/** A seed that strays farther than this is no pivot: skin and contact give by 5 to 10 mm. */
const mostSeedMm = 25;

type Step = {
	readonly sums: PivotSums;
	readonly part: number;
	readonly moving: number;
	readonly from: number;
	readonly to: number;
};

/** Where sums of positions count from: the first pose. */
function originOf({places}: Poses): Vector {
	return [places[0] ?? 0, places[1] ?? 0, places[2] ?? 0];
}

/** The stretch in which one point of the tracker stays where it is while the tracker turns, and how far it strays, mm rms. */
export type FoundPivot = Span & {readonly rms: number};

/** Undefined where there is none. */
export function findPivot(poses: Poses, bins: readonly Bin[]): FoundPivot | undefined {
	const origin = originOf(poses);
	const steps = stepsOf(poses, bins, origin);
	// Sums from the start up to each step: those of any stretch are the difference of two.
	const up = [noPivotSums];
	const moved = [0];
	for (const [index, {sums, moving}] of steps.entries()) {
		up.push(joined(up[index], sums));
		moved.push(moved[index] + moving);
	}
	const seed = bestSeed(steps, up, moved);
	return seed === undefined ? undefined : grown(seed, steps, up);
}

/** Steps from `first` to before `end`. */
type Stretch = {readonly first: number; readonly end: number};

/** The stretch of a seed's length that strays least for how much it turns; undefined where none is a pivot. */
function bestSeed(steps: readonly Step[], up: readonly PivotSums[], moved: readonly number[]): Stretch | undefined {
	let best: (Stretch & {readonly score: number}) | undefined;
	for (let first = 0; first + seedSteps <= steps.length; first++) {
		const end = first + seedSteps;
		if (steps[first].part !== steps[end - 1].part) continue;
		if (moved[end] - moved[first] < leastMoving * seedSteps) continue;
		const sums = joined(up[end], up[first], -1);
		const spread = turningSpread(sums);
		const turning = Math.sqrt(spread[0] + spread[4] + spread[8]);
		const fit = turning < leastTurning ? undefined : fitPivot(sums);
		if (fit === undefined || fit.rms > mostSeedMm) continue;
		const score = fit.rms / turning;
		if (best === undefined || score < best.score) best = {first, end, score};
	}
	return best;
}

/** A seed with the steps on both sides that belong to its pivot. */
function grown(seed: Stretch, steps: readonly Step[], up: readonly PivotSums[]): FoundPivot {
	let {first, end} = seed;
	let sums = joined(up[end], up[first], -1);
	const {part} = steps[first];
	for (;;) {
		const fit = fitPivot(sums)!;
		const limit = Math.max(strayMm, strayFactor * fit.rms);
		const belongs = (step: Step | undefined) =>
			step !== undefined && step.part === part && residual(step.sums, fit.point, fit.centre) < limit;
		if (belongs(steps[first - 1])) {
			first--;
			sums = joined(sums, steps[first].sums);
		} else if (belongs(steps[end])) {
			sums = joined(sums, steps[end].sums);
			end++;
		} else {
			return {from: steps[first].from, to: steps[end - 1].to, rms: fit.rms};
		}
	}
}

function stepsOf(poses: Poses, bins: readonly Bin[], origin: Vector): Step[] {
	const steps: Step[] = [];
	for (let index = 0; index < bins.length; ) {
		const first = index;
		while (index < bins.length && index < first + stepBins && bins[index].part === bins[first].part) index++;
		const own = bins.slice(first, index);
		const last = own[own.length - 1];
		steps.push({
			sums: pivotSums(poses, own[0].first, last.end, origin),
			part: own[0].part,
			moving: own.filter(bin => !isStill(bin)).length / own.length,
			from: own[0].from,
			to: last.to,
		});
	}
	return steps;
}

/** A stretch cut into blocks of about a second. */
export function pivotBlocks(poses: Poses, {from, to}: Span, seconds: number): PivotSums[] {
	const origin = originOf(poses);
	const count = Math.max(1, Math.round((to - from) / seconds));
	const edges = Array.from({length: count + 1}, (_, index) =>
		index === count ? indexAt(poses, to + 1e-9) : indexAt(poses, from + ((to - from) * index) / count),
	);
	return edges
		.slice(1)
		.map((end, index) => pivotSums(poses, edges[index], end, origin))
		.filter(({count: rows}) => rows > 0);
}
