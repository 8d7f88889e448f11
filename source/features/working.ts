import type {Features} from './features.ts';
import {othersAtFirmwaresTop} from './scaling.ts';

/**
 * Closings and openings of the whole hand seen from finger `a` since a time, each counted up to the two that make a
 * working hand (check-values D2): 4 says that the hand has worked since.
 */
export function workingMovements(features: Features, a: number, since: number): number {
	return movementsUpTo(features, a, since, eachWay);
}

/** Likewise of closings and openings up to twice as many: what a hand of which only two other fingers are wired takes. */
export function workingTwice(features: Features, a: number, since: number): number {
	return movementsUpTo(features, a, since, 2 * eachWay);
}

function movementsUpTo(features: Features, a: number, since: number, most: number): number {
	const hand = features.handAt(a);
	if (hand === undefined) return 0;
	return Math.min(hand.movementsSince(a, since, 1), most) + Math.min(hand.movementsSince(a, since, -1), most);
}

/** Two closings and two openings. */
const eachWay = 2;

/**
 * Fingers besides `a` that stay at a rail for longer than a jump: a pot on its reel ends short of its track, so that where two
 * do the firmware scales or clips them.
 */
export function clippedBeside(features: Features, a: number): number {
	const {spans, scale} = features.analog;
	const band = railShare * scale.fullScale;
	const others = features.handAt(a)?.others(a) ?? [];
	return others.filter(f => spans.low[f] <= scale.railLow + band || spans.high[f] >= scale.railHigh - band).length;
}

/** At a rail: within this share of full scale. */
const railShare = 0.003;

/** The hand's highest reading, where at least two other fingers end at it and it is an end of the firmware's own. */
export function sharedTop(features: Features, a: number): number | undefined {
	if (othersAtFirmwaresTop(features, a) < 2) return undefined;
	return Math.max(...(features.handAt(a)?.others(a) ?? []).map(f => features.analog.spans.high[f]));
}
