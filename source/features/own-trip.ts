import type {Hand} from './hand.ts';
import type {Trips} from './trips.ts';

/**
 * A finger takes part in a whole-hand movement with the trip that sets out nearest to it within so much, seconds: the 0.6 s
 * in which the fingers of a hand set out, and a tenth for what noise does to where a slow one is seen to set out.
 */
export const nearSeconds = 0.7;

/**
 * Number of the trip with which finger `f` takes part in a movement of way `way` (+1 closing, −1 opening; 0: either)
 * that set out at `outAt`, seconds; −1 where it makes none. A finger whose sense isn't known yet may go either way. To be
 * asked when it is decided which trips `f` made until then.
 */
export function ownTrip(trips: Trips, hand: Hand, f: number, outAt: number, way: number): number {
	let nearest = -1;
	let least = nearSeconds;
	const oldest = trips.oldest(f);
	for (let number = trips.count[f] - 1; number >= oldest; number--) {
		const place = trips.at(f, number);
		if (trips.settled[place] === 0) continue;
		const apart = Math.abs(trips.outAt[place] - outAt);
		if (trips.outAt[place] < outAt - nearSeconds) break;
		const isRight = way === 0 || hand.sense[f] === 0 || Math.sign(trips.way[place]) * hand.sense[f] === way;
		if (!isRight || apart > least) continue;
		nearest = number;
		least = apart;
	}
	return nearest;
}
