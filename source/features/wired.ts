import type {Features} from './features.ts';
import {unprovenWay} from './proof.ts';

/** There and back once. */
const waysNeeded = 2;

/** With its noise left aside a trip of so many rest noises is enough. */
const noisesAside = 10;

/**
 * Whether the channel at analog place `a` has moved there and back by itself, its noise left aside: it is wired, whatever
 * else is wrong with it. Quiet proves nothing, and what open pins share they have from each other. A stick axis once proven.
 */
export function hasMovedItself(features: Features, a: number): boolean {
	if (features.learning[a] === 1) return false;
	if (features.handAt(a) === undefined) return features.proven[a] === 1;
	const {proof, ownTravel, scale} = features;
	return (
		features.isFinger(a) &&
		(proof.isItselfAside(a) || ownTravel.isOwn(a)) &&
		proof.ways(a, unprovenWay * scale.fullScale, noisesAside) >= waysNeeded
	);
}
