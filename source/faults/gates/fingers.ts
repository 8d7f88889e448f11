import type {Features} from '../../features/features.ts';
import {type Gate, ground, lasting, waitsFor} from './gate.ts';

/** The movement that whole-hand checks wait for. */
export const wholeHand = 'open and close the whole hand';

/** Fewer wired fingers make no whole-hand movement (check-values D2). */
const leastFingers = 2;

/** The channel is a finger as far as is known: no open pin, no ghost, not learning its range. */
export const isFinger: Gate = ground(
	'finger',
	'a finger that is wired and not learning its range',
	(features, a) => features.isFinger(a),
	(features, a) => features.handAt(a) === undefined,
);

/** Any channel but one whose firmware is still widening its range: until then its readings are no measure of anything. */
export const notLearning: Gate = ground(
	'learning',
	'a range that is learned',
	(features, a) => features.learning[a] === 0,
);

/** Any channel that is wired as far as is known, and whose firmware is not widening its range. */
export const isWired: Gate = ground(
	'wired',
	'a channel that is no open pin and not learning its range',
	(features, a) => features.learning[a] === 0 && features.open[a] === 0,
);

/** A stick axis. */
export const isStickAxis: Gate = lasting('stick', 'a stick axis', (features, a) => features.handAt(a) === undefined);

/** There are at least two other fingers to compare with. */
export const hasCompany: Gate = ground(
	'company',
	'at least two other fingers',
	(features, a) => (features.handAt(a)?.others(a).length ?? 0) >= leastFingers,
);

/** Whether a channel has moved by itself as often as a proof asks, its noise left aside; a stick axis that is proven. */
export function isProvenAside(features: Features, a: number): boolean {
	const {proof, scale} = features;
	const fingers = features.handAt(a)?.fingers;
	if (features.proven[a] === 1 || fingers === undefined) return features.proven[a] === 1;
	return proof.isItselfAside(a) && proof.waysAmong(a, fingers, scale.fullScale, true) >= proof.needed;
}

/** As long as no finger is proven all that moves may be open pins that share what they pick up. */
export const anyProven: Gate = waitsFor(
	'proven',
	'a finger that is proven',
	({proven, hands}) => (hands.some(({fingers}) => fingers.some(f => proven[f] === 1)) ? undefined : 'none yet'),
	'move one finger alone, there and back twice',
);

/** What has never moved by itself may be an open pin. */
export const isProvenFinger: Gate = waitsFor(
	'proven',
	'a channel that has moved by itself, its noise left aside',
	(features, a) => (isProvenAside(features, a) ? undefined : 'it has not moved by itself there and back twice'),
	'move the finger alone, there and back twice',
);
