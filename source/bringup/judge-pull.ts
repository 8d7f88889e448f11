import type {Pull, PullTracker} from './pull-tracker.ts';

/** What a finger's pull was part of. */
type PulledAlone =
	/** By itself: others moved less. `strength` is its way as a share of `scale`. */
	| {readonly kind: 'alone'; readonly strength: number}
	/** Several fingers at once. */
	| {readonly kind: 'together'; readonly strength: number}
	/** Along with a finger that moved more (anatomy), or the copy of a channel that was counted already. */
	| {readonly kind: 'follower'};

/**
 * From this share of the strongest on, a finger moved as well and did not merely follow: neighbours follow by 5–30 %,
 * ring and little finger by up to some 45 % (finger enslaving studies, abstracts read).
 */
const togetherShare = 0.6;

/** Two channels this alike are one and the same. */
const copyShare = 0.98;

/**
 * Judges a completed pull against what the other fingers did meanwhile. `scale` gives each column's whole travel if it
 * is known, else full scale. `recent` are pulls that completed before, newest last.
 */
export function judgePull(
	pull: Pull,
	trackers: readonly PullTracker[],
	recent: readonly Pull[],
	scale: (column: number) => number,
): PulledAlone {
	const strength = Math.abs(pull.excursion) / scale(pull.column);
	const others: number[] = [];
	let isCopy = false;
	for (const {column, underWay} of trackers) {
		if (column === pull.column) continue;
		let other = underWay !== undefined && underWay.from < pull.to ? Math.abs(underWay.excursion) : 0;
		let isCounted = false;
		for (const {column: its, from, to, excursion} of recent) {
			// They share most of the shorter one's time.
			const shared = Math.min(to, pull.to) - Math.max(from, pull.from);
			if (its !== column || shared < 0.5 * Math.min(to - from, pull.to - pull.from)) continue;
			other = Math.max(other, Math.abs(excursion));
			isCounted = true;
		}

		others.push(other / scale(column));
		if (isCounted && other / scale(column) >= copyShare * strength) isCopy = true;
	}

	const strongest = Math.max(strength, ...others);
	const alike = [strength, ...others].filter(each => each >= togetherShare * strongest).length;
	// With four fingers or more three must have moved; two may be a finger and a neighbour that follows closely.
	if (alike >= Math.min(3, trackers.length)) return {kind: 'together', strength};
	return strength < copyShare * strongest || isCopy ? {kind: 'follower'} : {kind: 'alone', strength};
}
