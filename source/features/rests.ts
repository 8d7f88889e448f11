import type {Features} from './features.ts';
import type {Trips} from './trips.ts';

/** Around a trip so much is not rest either: the first and last tenth of the way lie outside its marks. */
const marginSeconds = 0.1;

/** A trip shows only once it has gone its least way. */
const showsSeconds = 0.75;

/** A channel that is under way for longer than this is no movement of a hand; what others do is decided without it. */
const longestSeconds = 3;

/**
 * Whether none of the channels, nor the one that is named `also`, makes a trip between two times, seconds (check-values D2, rest).
 * To be asked of decided times.
 */
export function isRest(trips: Trips, channels: readonly number[], from: number, to: number, also = -1): boolean {
	if (also >= 0 && trips.isOnTrip(also, from - marginSeconds, to + marginSeconds)) return false;
	for (const a of channels) if (trips.isOnTrip(a, from - marginSeconds, to + marginSeconds)) return false;
	return true;
}

/**
 * Up to when it is decided, at time `now`, whether these channels rested, and the one that is named `also`: later times may
 * turn out to be in a trip.
 */
export function decidedUntil(trips: Trips, channels: readonly number[], now: number, also = -1): number {
	let until = now - showsSeconds;
	if (also >= 0) until = Math.min(until, decidedOf(trips, also, now));
	for (const a of channels) until = Math.min(until, decidedOf(trips, a, now));
	return until;
}

function decidedOf(trips: Trips, a: number, now: number): number {
	if (trips.count[a] === 0) return now;
	const last = trips.at(a, trips.count[a] - 1);
	return trips.settled[last] === 0 ? Math.max(trips.startAt[last], now - longestSeconds) : now;
}

/**
 * Seconds since `since` in which none of the channels made a trip while channel `a` was as rough as `least` counts, block by
 * block, as far as blocks are held.
 */
export function roughAtRest(
	{analog, now}: Features,
	a: number,
	channels: readonly number[],
	since: number,
	least: number,
): number {
	const {rows, trips} = analog;
	const until = decidedUntil(trips, channels, now);
	let seconds = 0;
	for (let number = rows.firstSince(since); number < rows.count; number++) {
		const from = rows.start[rows.slot(number)];
		const to = rows.end[rows.slot(number)];
		if (to > until) break;
		if (rows.rough[rows.at(number, a)] >= least && isRest(trips, channels, from, to)) seconds += to - from;
	}
	return seconds;
}
