import type {Features} from '../../features/features.ts';
import type {Status} from '../fault-code.ts';
import {type Gate, unless} from './gate.ts';

/** Proven fingers of the hands in the stream, and fingers in all. */
export function provenFingers(features: Features): {readonly proven: number; readonly all: number} {
	let proven = 0;
	let all = 0;
	for (const {fingers} of features.hands) {
		all += fingers.length;
		for (const f of fingers) proven += features.proven[f];
	}
	return {proven, all};
}

/**
 * How grave an open pin is (check-values D5.2): failure once half of the fingers are proven, or where it was proven itself; before
 * that it may not be wired yet.
 */
export function openPinStatus(features: Features, a: number): Status {
	const {proven, all} = provenFingers(features);
	return features.proven[a] === 1 || 2 * proven >= all ? 'failure' : 'function-check';
}

/** Any channel that follows its finger is wired, however noisy. A stick axis that was proven belongs to a stick. */
export const isUnrelated: Gate = unless('unrelated', 'a level that does not follow the hand', whyRelated);

function whyRelated(features: Features, a: number): string | undefined {
	if (features.handAt(a) === undefined) return features.proven[a] === 1 ? 'it has been proven' : undefined;
	if (!features.follow.follows(a) && !features.follow.mayFollow(a)) return undefined;
	// An open pin goes with the hand as far as it borrows the travel of the channel read before it.
	if (features.ownTravel.isBorrowed(a)) return undefined;
	const {same, of} = features.follow.standing(a);
	return `it went with the hand in ${same} of ${of} movements`;
}

/**
 * Likewise of what began to jitter: once it has moved alone, only movements since then tell. Without any, a level that it has
 * left by itself does.
 */
export const isUnrelatedSince: Gate = unless('unrelated', 'a level that does not follow the hand', (features, a) => {
	const refused = whyRelated(features, a);
	if (refused === undefined || features.handAt(a) === undefined || Number.isNaN(features.proof.aloneAt[a]))
		return refused;
	const went = features.follow.wentAlongSince(a, features.jagged.since[a]);
	return went === false || (went === undefined && features.jagged.hasLeft(features, a)) ? undefined : refused;
});
