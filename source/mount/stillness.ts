import {nearMean, type Poses, type Span} from './poses.ts';
import {angleBetween, degree, length, plus, type Quaternion, type Vector} from './rotation.ts';

/** What the hand did on average within an eighth of a second. */
export type Bin = {
	readonly from: number;
	readonly to: number;
	readonly part: number;
	/** First and one past the last pose. */
	readonly first: number;
	readonly end: number;
	readonly turn: Quaternion;
	readonly place: Vector;
	/** Speeds between the bins around this one, rad/s and mm/s; undefined at the ends of a part. */
	readonly turning: number | undefined;
	readonly moving: number | undefined;
};

/** Averaging over this takes a tracker's noise of 0.2° at 90/s to 0.06°: half a degree a second between neighbours but one. */
const binSeconds = 0.125;

/** check-values O6: slower than both is still. */
const stillTurning = 3 * degree;
const stillMoving = 15;

/** check-values O6: a pose that is meant is held so long. */
export const stillSeconds = 1.5;

/** Poses put together by time, in order; bins without a pose are left out. Positions in mm. */
export function binsOf(poses: Poses): Bin[] {
	const {t, parts, places, count} = poses;
	const means: Omit<Bin, 'turning' | 'moving'>[] = [];
	for (let first = 0; first < count; ) {
		const key = Math.floor((t[first] - t[0]) / binSeconds);
		let end = first;
		let sum: Vector = [0, 0, 0];
		while (end < count && parts[end] === parts[first] && Math.floor((t[end] - t[0]) / binSeconds) === key) {
			sum = [sum[0] + places[3 * end], sum[1] + places[3 * end + 1], sum[2] + places[3 * end + 2]];
			end++;
		}
		const n = end - first;
		means.push({
			from: t[first],
			to: t[end - 1],
			part: parts[first],
			first,
			end,
			turn: nearMean(poses, first, end),
			place: [sum[0] / n, sum[1] / n, sum[2] / n],
		});
		first = end;
	}
	return means.map((bin, index) => {
		const before = means[index - 1]?.part === bin.part ? means[index - 1] : bin;
		const after = means[index + 1]?.part === bin.part ? means[index + 1] : bin;
		const seconds = (after.from + after.to - before.from - before.to) / 2;
		if (!(seconds > 0)) return {...bin, turning: undefined, moving: undefined};
		return {
			...bin,
			turning: angleBetween(before.turn, after.turn) / seconds,
			moving: length(plus(after.place, before.place, -1)) / seconds,
		};
	});
}

export function isStill({turning, moving}: Bin): boolean {
	return turning !== undefined && moving !== undefined && turning < stillTurning && moving < stillMoving;
}

/** Longest break inside a held pose that is a twitch, seconds. */
const twitchSeconds = 0.3;

/** A pose that came back to within this after a twitch is the same pose. */
const twitchTurn = 6 * degree;

/** Stretches in which the hand was held still long enough, in order. */
export function heldPoses(bins: readonly Bin[], least = stillSeconds): (Span & {readonly turn: Quaternion})[] {
	const runs: {first: number; last: number}[] = [];
	for (const [index, bin] of bins.entries()) {
		if (!isStill(bin)) continue;
		const run = runs[runs.length - 1];
		const last = run && bins[run.last];
		const isSame =
			last &&
			last.part === bin.part &&
			bin.from - last.to < twitchSeconds &&
			(run.last === index - 1 || angleBetween(last.turn, bin.turn) < twitchTurn);
		if (isSame) run.last = index;
		else runs.push({first: index, last: index});
	}
	const held = runs
		.map(({first, last}) => ({from: bins[first].from, to: bins[last].to, turn: middleTurn(bins, first, last)}))
		.filter(({from, to}) => to - from >= least - binSeconds);
	// The same pose after a short fidget is no second one.
	const merged: (Span & {turn: Quaternion})[] = [];
	for (const pose of held) {
		const before = merged[merged.length - 1];
		if (before && pose.from - before.to < 1 && angleBetween(before.turn, pose.turn) < twitchTurn)
			merged[merged.length - 1] = {from: before.from, to: pose.to, turn: before.turn};
		else merged.push(pose);
	}
	return merged;
}

function middleTurn(bins: readonly Bin[], first: number, last: number): Quaternion {
	return bins[(first + last) >> 1].turn;
}
