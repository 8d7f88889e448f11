import {stepOf} from '../features/analog-features.ts';
import {BlockHistory} from '../features/block-history.ts';
import type {Features} from '../features/features.ts';
import type {Verdict} from './fault.ts';
import {figure, percentFs} from './figures.ts';
import {calmestRoughness, noiseFactor} from './rest-watch.ts';

export type Level = 'low' | 'high' | 'mid';

/** A span between these shares of full scale is a reel that hardly turns, not one that does not. */
const slightSpan = 0.008;
const smallSpan = 0.12;

/** 'The hand works': at least two other fingers have travelled there and back twice, which is four turns. */
const leastWorkers = 2;
const leastTurns = 4;

/** Turns asked of more workers where a resting finger would look alike. */
const turnsInDoubt = 8;

/** A reading that leapt to where it now lies broke off: going there and back once is then enough. */
const turnsAfterBreak = 2;
const breakSeconds = 0.4;

/** Likewise one that lies outside the range it moved in before, by more than a posture differs. */
const outsideShare = 0.03;

/**
 * A worker's longest way against the longest of all: neighbours that only follow a bent finger (up to 40 % of their
 * span) are no workers, a thumb with half the others' travel is.
 */
const workerShare = 0.45;

/**
 * Where only two work, the second must go this much of the first's way: a neighbour follows by up to 40 %, which on a
 * smaller spool may read half as long again.
 */
const pairShare = 0.6;

/** Noise of a stuck reading, rms: the definition's 0.3 % range is six rms of 0.05 %; boards with radio bring up to 0.4 %. */
const mostNoise = 0.0045;

/** A stick axis at a rail is stuck after this long (definition). */
const stickSeconds = 3;

/** One detector for the three codes: a reading with nothing but the converter's noise while the hand works. */
export function detectStuck(features: Features, a: number, wanted: Level): Verdict {
	const {analog} = features;
	const {blocks, stillSince, trips} = analog;
	if (blocks.count < 2) return undefined;
	const full = analog.scale.fullScale;
	const since = stillSince[a];
	// Moved within the last half second: not stuck.
	if (analog.movedAt[a] > features.now - 2 * BlockHistory.seconds - 1e-9 || Number.isNaN(since)) return 'gone';
	const {railLow, railHigh} = analog.scale;
	const level: Level =
		analog.stillHigh[a] <= railLow + 0.01 * full
			? 'low'
			: analog.stillLow[a] >= railHigh - 0.01 * full
				? 'high'
				: 'mid';
	if (level !== wanted) return features.now - since > 1 ? 'gone' : undefined;
	const mean = (analog.stillLow[a] + analog.stillHigh[a]) / 2;
	const stick = !features.hand.fingers.includes(a);
	if (stick) {
		if (level === 'mid' || features.now - since < stickSeconds) return undefined;
		return {
			from: since,
			flaggedAt: since + stickSeconds,
			confidence: 0.8,
			summary: `${features.analogName(a)} has lain at ${percentFs(features, mean)} % FS for ${figure(features.now - since)} s.`,
			evidence: {levelPercentFs: percentFs(features, mean), levelCounts: Math.round(mean)},
		};
	}
	if (level === 'mid' && blocks.noise[blocks.at(blocks.count - 1, a)] > mostNoise * full) return undefined;
	// Whatever else is asked below, two others must have gone there and back since.
	if (turners(features, a, since, turnsAfterBreak) < leastWorkers) return undefined;
	const broke = Math.abs(analog.excursions.brokeAt[a] - since) <= breakSeconds || isOutside(features, a, since, mean);
	// By the definition two workers and a range of 0.3 % suffice. Where the converter's noise is wider than that, or the
	// firmware rests its fingers at the rails, a finger that only rests looks the same: more of the hand must work.
	const span = analog.ends.span(a);
	// It does move with the hand, only far too little: that is narrow-span.
	if (level === 'mid' && span > slightSpan * full && span < smallSpan * full) return undefined;
	const wide = stepOf(full) > 0.003 * full || analog.stillHighest[a] - analog.stillLowest[a] > 0.003 * full + 1;
	const doubtful = !broke && analog.trips.count[a] >= 2 && (wide || restsAtRails(features));
	const workers = workingFingers(features, a, since, broke ? turnsAfterBreak : doubtful ? turnsInDoubt : leastTurns);
	if (
		workers <
		(doubtful
			? mostOthers(features)
			: broke && trips.count[a] > 0
				? Math.max(Math.min(3, mostOthers(features)), neededWorkers(features))
				: neededWorkers(features))
	)
		return undefined;
	return {
		from: since,
		confidence: Math.min(0.95, 0.7 + 0.1 * workers),
		summary: `${features.analogName(a)} has stayed at ${percentFs(features, mean)} % FS (within ${percentFs(features, analog.stillHigh[a] - analog.stillLow[a])} %) while ${workers} other fingers worked.`,
		evidence: {levelPercentFs: percentFs(features, mean), levelCounts: Math.round(mean), workingFingers: workers},
	};
}

/** Two of a hand's fingers; of two hands' as large a share, because one hand may rest. */
function neededWorkers(features: Features): number {
	return Math.max(leastWorkers, Math.round(0.4 * (features.hand.fingers.length - 1)));
}

/** All other fingers but one, which may be resting as well. */
function mostOthers(features: Features): number {
	return Math.max(leastWorkers, features.hand.fingers.length - 2);
}

/** How many other fingers have turned so often since `since`, as far as that matters: up to two. */
function turners(features: Features, a: number, since: number, turns: number): number {
	const {trips} = features.analog;
	let count = 0;
	for (const other of features.hand.fingers)
		if (other !== a && trips.turnsSince(other, since) >= turns && ++count >= leastWorkers) break;
	return count;
}

/** How many other fingers have gone there and back twice since `since`; fewer than two may be told as one too many. */
export function workingFingers(features: Features, a: number, since: number, turns = leastTurns): number {
	const {trips, scale, ends} = features.analog;
	const few = turners(features, a, since, turns);
	if (few < leastWorkers) return few;
	const others = features.hand.fingers.filter(other => other !== a);
	const ways = others.map(other => trips.longestSince(other, since));
	const longest = Math.max(0, ...ways);
	let workers = 0;
	let strong = 0;
	others.forEach((other, i) => {
		const far = ways[i] >= Math.max(workerShare * longest, 0.4 * ends.span(other), 0.08 * scale.fullScale);
		if (!far || trips.turnsSince(other, since) < turns) return;
		// An open pin goes ways, too: of its own noise.
		if (ways[i] < noiseFactor * calmestRoughness(features, other)) return;
		workers++;
		if (ways[i] >= pairShare * longest) strong++;
	});
	// One bent finger and the neighbour it takes along are one worker.
	return workers === 2 && strong < 2 && others.length > 2 ? 1 : workers;
}

/** Whether a level lies clearly outside the range in which the channel turned before it fell still. */
function isOutside(features: Features, a: number, since: number, level: number): boolean {
	const {trips, scale} = features.analog;
	let low = Number.POSITIVE_INFINITY;
	let high = Number.NEGATIVE_INFINITY;
	let turns = 0;
	for (let number = trips.oldest(a); number < trips.count[a]; number++) {
		const place = trips.at(a, number);
		if (trips.notedAt[place] >= since) break;
		low = Math.min(low, trips.values[place]);
		high = Math.max(high, trips.values[place]);
		turns++;
	}
	const beyond = outsideShare * scale.fullScale;
	return turns >= 4 && (level < low - beyond || level > high + beyond);
}

/** Whether most fingers reach both rails: the firmware stretches them, and an open hand reads the rail itself. */
function restsAtRails(features: Features): boolean {
	const {ends, scale} = features.analog;
	const band = 0.01 * scale.fullScale;
	const {fingers} = features.hand;
	const both = fingers.filter(a => ends.low[a] <= scale.railLow + band && ends.high[a] >= scale.railHigh - band).length;
	return 2 * both >= fingers.length;
}
