import type {Features} from './features.ts';
import {noisesAside, unprovenWay} from './proof.ts';

/** There and back once. */
const waysNeeded = 2;

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

/** Likewise, or it goes with the hand each time and not as a copy of the channel before it: as far as a shaking supply lets it be seen. */
export function seemsWired(features: Features, a: number): boolean {
	if (hasMovedItself(features, a)) return true;
	const {follow, ownTravel} = features;
	return features.isFinger(a) && follow.follows(a) && ownTravel.mayBeOwn(a);
}
