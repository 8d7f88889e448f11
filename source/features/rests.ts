import type {Features} from './features.ts';
import type {Trips} from './trips.ts';

/** Around a trip so much is not rest either: the first and last tenth of the way lie outside its marks. */
const marginSeconds = 0.1;

/** A trip shows only once it has gone its least way. */
const showsSeconds = 0.75;

/** A channel that is under way for longer than this is no movement of a hand; what others do is decided without it. */
const longestSeconds = 3;

/** Whether none of the channels makes a trip between two times, seconds (check-values D2, rest). To be asked of decided times. */
export function isRest(trips: Trips, channels: readonly number[], from: number, to: number): boolean {
	return !channels.some(a => trips.isOnTrip(a, from - marginSeconds, to + marginSeconds));
}

/** Up to when it is decided, at time `now`, whether these channels rested: later times may turn out to be in a trip. */
export function decidedUntil(trips: Trips, channels: readonly number[], now: number): number {
	let until = now - showsSeconds;
	for (const a of channels) {
		if (trips.count[a] === 0) continue;
		const last = trips.at(a, trips.count[a] - 1);
		if (trips.settled[last] === 0) until = Math.min(until, Math.max(trips.startAt[last], now - longestSeconds));
	}
	return until;
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
		const [from, to] = [rows.start[rows.slot(number)], rows.end[rows.slot(number)]];
		if (to > until) break;
		if (rows.rough[rows.at(number, a)] >= least && isRest(trips, channels, from, to)) seconds += to - from;
	}
	return seconds;
}
