import type {Features} from './features.ts';

/** The two full scales that boards have and settings confuse (10 and 12 bit). */
export const tenBit = 1023;
export const twelveBit = 4095;

/** A finger that gets this near to the top of 10 bit. */
const nearTop = 1000;

/** A stick of a 10-bit board rests this near to the middle of 10 bit (check-values D5.4). */
const nearMiddle = 0.06;

/** A finger has shown both its ends once it has gone there and back twice. */
const waysShown = 4;

/** Readings of exactly 0 that are no accident. */
const leastZeros = 3;

/** Whether nothing is above 1023, be it by a scale of 10 bit or by a firmware that limits a longer one to it. */
function endsAtTenBit({scale}: Features): boolean {
	return scale.fullScale === tenBit || (scale.declared === twelveBit && scale.highest <= tenBit);
}

function isPinned({scale}: Features, a: number, leastShare: number): boolean {
	return scale.frames[a] > 0 && scale.atTop[a] >= leastShare * scale.frames[a];
}

/** Whether no finger reads exactly 0 but by accident; firmware that scales makes it. */
function isAboveZero({scale}: Features, fingers: readonly number[]): boolean {
	return fingers.every(f => scale.atZero[f] < leastZeros);
}

/**
 * Fingers that lie at exactly 1023 for at least a share of their time (0…1) and never above, whether they have moved or not;
 * 0 where a finger reads exactly 0 as well.
 */
export function fingersAtTenBit(features: Features, leastShare: number): number {
	const fingers = fingersOf(features);
	if (!endsAtTenBit(features) || !isAboveZero(features, fingers)) return 0;
	return fingers.filter(f => isPinned(features, f, leastShare)).length;
}

/**
 * Channels that lie at exactly 1023 for at least a share of their time (0…1) and never above, where no finger ever reads
 * exactly 0: firmware that scales does. A finger counts once it has shown both its ends, or where both axes of the stick,
 * which rests between its ends on a sound glove, lie there too.
 */
export function pinnedAtTenBit(features: Features, leastShare: number): number {
	const {analog, stick} = features;
	if (!endsAtTenBit(features)) return 0;
	const lies = (a: number): boolean => isPinned(features, a, leastShare);
	// Where no channel lies at the top the rest need not be looked at.
	if (!analog.columns.some((_, a) => lies(a))) return 0;
	const fingers = fingersOf(features);
	// What firmware makes of a range that it still widens lies at its ends.
	if (fingers.some(f => features.learning[f] === 1)) return 0;
	if (!isAboveZero(features, fingers)) return 0;
	const pinned = fingers.filter(lies);
	const axes = stick === null ? [] : [stick.x, stick.y].filter(lies);
	if (axes.length > 1) return pinned.length + axes.length;
	return pinned.filter(f => analog.trips.count[f] >= waysShown).length + axes.length;
}

/** Channels that never read below 0, where some do by a mistake of the firmware. */
const leastAbove = 2;

/** Fingers whose whole numbers go below 0 while their other end is a reading of the scale; 0 for a glove that is signed. */
export function fingersBelowZero(features: Features): number {
	const {scale, analog} = features;
	if (!scale.isWhole) return 0;
	let below = 0;
	for (let a = 0; a < analog.columns.length; a++) if (scale.lowestMean[a] < 0) below++;
	// Mostly none does.
	if (below === 0) return 0;
	const isBelow = (a: number): boolean => scale.lowestMean[a] < 0;
	// Where hardly a channel has stayed above 0 the glove sends signed numbers, and the last ones have yet to go there.
	if (analog.columns.length - below < leastAbove) return 0;
	return fingersOf(features).filter(
		f => isBelow(f) && scale.highestMean[f] > 0 && scale.highestMean[f] <= scale.assumed,
	).length;
}

/** Fingers that come near the top of 10 bit and have shown both their ends, so that it is known how long they lie there. */
export function fingersNearTenBit(features: Features): number {
	const {spans, trips} = features.analog;
	return fingersOf(features).filter(f => spans.high[f] >= nearTop && trips.count[f] >= waysShown).length;
}

/** Whether both axes of the stick rest near the middle of 10 bit. */
export function restsLikeTenBit({stick}: Features): boolean {
	const rests = stick === null ? [] : [stick.restPoint('x'), stick.restPoint('y')];
	return (
		rests.length > 0 && rests.every(rest => rest !== undefined && Math.abs(rest - tenBit / 2) <= nearMiddle * tenBit)
	);
}

function fingersOf({hands}: Features): number[] {
	return hands.flatMap(({fingers}) => [...fingers]);
}
