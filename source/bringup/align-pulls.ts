import {itemAt} from '../item-at.ts';
import type {Pull} from './pull-tracker.ts';

/** A finger answered on another's channel. */
const mismatch = 1;
/** Two fingers on each other's channels are one mistake, not two. */
const mutual = -0.5;
/** A finger that left no pulls. */
const skipFinger = 1.1;
/** A single pull among groups of several that belongs to no finger. */
const dropStray = 0.6;

type Group = {readonly column: number; readonly pulls: readonly Pull[]};

/**
 * Tells which finger each pull of a recording was for, where nobody noted what was asked: fingers are taken one after
 * the other, each as often as it was, and the reading with the fewest surprises wins. A finger whose channel is dead
 * leaves no pulls: those after it must not be taken for its.
 *
 * `own[i]` is the column that finger `i` should answer on. Gives the pulls of every finger, in order. Tries every choice
 * of fingers left out: at most a few hundred for ten reels.
 */
export function alignPulls(pulls: readonly Pull[], own: readonly number[]): (readonly Pull[])[] {
	const all = groupsOf(pulls);
	const hasSeveral = all.some(group => group.pulls.length > 1);
	const steady = hasSeveral ? all.filter(group => group.pulls.length > 1) : all;
	let best: (readonly Pull[])[] = own.map(() => []);
	let least = Number.POSITIVE_INFINITY;
	for (const groups of [fitting(all, own.length), fitting(steady, own.length)]) {
		const dropped = (all.length - groups.length) * dropStray;
		for (const places of choices(own.length, groups.length)) {
			const cost = dropped + costOf(groups, places, own) + skipFinger * (own.length - groups.length);
			if (cost >= least) continue;
			least = cost;
			best = own.map((_, finger) => groups[places.indexOf(finger)]?.pulls ?? []);
		}
	}

	return best;
}

function costOf(groups: readonly Group[], places: readonly number[], own: readonly number[]): number {
	let cost = 0;
	places.forEach((place, i) => {
		const {column} = itemAt(groups, i);
		if (column === own[place]) return;
		cost += mismatch;
		// Whoever owns this column answered on ours.
		const partner = places.indexOf(own.indexOf(column));
		if (partner > i && groups[partner]?.column === own[place]) cost += mutual;
	});
	return cost;
}

/** At most `most` groups: those with the fewest pulls go first. */
function fitting(groups: readonly Group[], most: number): readonly Group[] {
	if (groups.length <= most) return groups;
	const kept = [...groups].sort((one, other) => other.pulls.length - one.pulls.length).slice(0, most);
	return groups.filter(group => kept.includes(group));
}

/** Every way of choosing `count` of the places 0 … `from` − 1, in rising order; earlier places first. */
function choices(from: number, count: number, start = 0): number[][] {
	if (count === 0) return [[]];
	const found: number[][] = [];
	for (let place = start; place <= from - count; place++) {
		for (const rest of choices(from, count - 1, place + 1)) found.push([place, ...rest]);
	}

	return found;
}

/** Neighbouring pulls of one column; a stray pull between two of another column does not part them. */
function groupsOf(pulls: readonly Pull[]): Group[] {
	const groups: {column: number; pulls: Pull[]}[] = [];
	pulls.forEach((pull, i) => {
		const last = groups[groups.length - 1];
		if (last?.column === pull.column) last.pulls.push(pull);
		else if (!(last && last.pulls.length > 1 && pulls[i + 1]?.column === last.column)) {
			groups.push({column: pull.column, pulls: [pull]});
		}
	});
	return groups;
}
