import {isProvenAside, wholeHand} from './fingers.ts';
import {type Gate, waitsFor} from './gate.ts';

const borrowed = 'travel that may be that of the channel read before it';

/**
 * A finger that goes with the hand by travel of its own: what follows nothing, or only repeats the channel read before it, is
 * an open pin, whatever else it shows. Stick axes pass.
 */
export const followsFinger: Gate = waitsFor(
	'follows',
	'a channel that follows its finger, by travel of its own',
	(features, a) => {
		if (features.handAt(a) === undefined) return undefined;
		if (features.follow.follows(a))
			return features.ownTravel.isOwn(a) || features.proof.isItselfAside(a) ? undefined : borrowed;
		const {same, of} = features.follow.standing(a);
		return `it went its usual way in ${same} of ${of} movements`;
	},
	wholeHand,
);

/** Likewise, the movement under way counted, or one that has moved by itself as often as a proof asks, its noise left aside; not one that stays away from the whole hand. */
export const isWiredFinger: Gate = waitsFor(
	'follows',
	'a channel that follows its finger, or has moved by itself',
	(features, a) => {
		if (features.handAt(a) === undefined) return undefined;
		if (isProvenAside(features, a) && !features.follow.staysAway(a)) return undefined;
		if (features.follow.followsByNow(features, a))
			return features.ownTravel.isOwn(a) || features.proof.isItselfAside(a) ? undefined : borrowed;
		const {same, of} = features.follow.standing(a);
		return `it went its usual way in ${same} of ${of} movements, and has not moved by itself twice`;
	},
	wholeHand,
);

/** A stick axis that has been pushed both ways: before that it may be an open pin. Fingers pass. */
export const isProvenStick: Gate = waitsFor(
	'pushed',
	'a stick axis that has been pushed both ways',
	(features, a) =>
		features.handAt(a) !== undefined || features.proven[a] === 1 ? undefined : 'not pushed both ways yet',
	'push the stick to both sides and let it return, twice',
);
