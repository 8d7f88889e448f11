import type {ChannelRows} from './channel-rows.ts';
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
	window[0] = from - marginSeconds;
	window[1] = to + marginSeconds;
	return rests(trips, channels, also);
}

/** Likewise over the blocks `first` to `last`, both included. */
export function isRestOver(
	{rows, trips}: Blocks,
	channels: readonly number[],
	first: number,
	last: number,
	also = -1,
): boolean {
	window[0] = rows.start[rows.slot(first)] - marginSeconds;
	window[1] = rows.end[rows.slot(last)] + marginSeconds;
	return rests(trips, channels, also);
}

type Blocks = {readonly rows: ChannelRows; readonly trips: Trips};

/** What is asked about, with its margins, seconds; used within one call only. */
const window = new Float64Array(2);

function rests(trips: Trips, channels: readonly number[], also: number): boolean {
	if (also >= 0 && trips.isOnTripWithin(also, window)) return false;
	for (let i = 0; i < channels.length; i++) if (trips.isOnTripWithin(channels[i], window)) return false;
	return true;
}

/**
 * Up to when it is decided by now whether these channels rested, and the one that is named `also`: later times may turn out to be
 * in a trip.
 */
export function decidedUntil({analog: {trips}, now}: Features, channels: readonly number[], also = -1): number {
	const latest = now - showsSeconds;
	const under = Math.min(underWaySince(trips, channels), also < 0 ? now : since(trips, also));
	// Of what goes on for too long nobody waits for the end.
	return Math.min(latest, Math.max(under, now - longestSeconds));
}

/** When the first of these channels set out that are under way, seconds; +∞ where all have arrived. */
function underWaySince(trips: Trips, channels: readonly number[]): number {
	let first = Number.POSITIVE_INFINITY;
	for (let i = 0; i < channels.length; i++) first = Math.min(first, since(trips, channels[i]));
	return first;
}

function since(trips: Trips, a: number): number {
	if (trips.count[a] === 0) return Number.POSITIVE_INFINITY;
	const last = trips.at(a, trips.count[a] - 1);
	return trips.settled[last] === 0 ? trips.startAt[last] : Number.POSITIVE_INFINITY;
}

/**
 * Seconds since `since` in which none of the channels made a trip while channel `a` was as rough as `least` counts, block by
 * block, as far as blocks are held.
 */
export function roughAtRest(
	features: Features,
	a: number,
	channels: readonly number[],
	since: number,
	least: number,
): number {
	const {analog} = features;
	const {rows} = analog;
	const until = decidedUntil(features, channels);
	let seconds = 0;
	for (let number = rows.firstSince(since); number < rows.count; number++) {
		const from = rows.start[rows.slot(number)];
		const to = rows.end[rows.slot(number)];
		if (to > until) break;
		if (rows.rough[rows.at(number, a)] >= least && isRestOver(analog, channels, number, number)) seconds += to - from;
	}
	return seconds;
}
