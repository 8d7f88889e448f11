import {provenPresses} from '../features/button-features.ts';
import type {Features} from '../features/features.ts';
import {noises, unprovenWay} from '../features/proof.ts';
import {towardsProofNeeded} from '../features/stick-pushes.ts';
import type {Channel} from '../framing/layout.ts';

/** What a channel has done by itself: what it takes to prove it, and when it last moved. */
export type ChannelMoves = {
	/** Pulls, presses, or sides and returns seen that count towards its proof, and how many it takes; null for what is not proven. */
	readonly pulls: {readonly seen: number; readonly needed: number} | null;
	/**
	 * When it last moved itself, seconds: an open pin, a ghost of the channel before it and noise never do. Null before.
	 */
	readonly movedItselfAt: number | null;
	/** How far that went, as a share of full scale, 0…1. */
	readonly movedBy: number;
};

export const noMoves: ChannelMoves = {pulls: null, movedItselfAt: null, movedBy: 0};

/** What the channel has done in this epoch. */
export function movesOf(features: Features, channel: Channel): ChannelMoves {
	const place = features.placeOf[channel.index];
	if (channel.role === 'button') {
		const button = features.buttons[place];
		if (button.isSpare) return noMoves;
		const seen = Math.min(provenPresses, button.latestPresses(provenPresses).clean);
		const pulls = {seen: button.isProven ? provenPresses : seen, needed: provenPresses};
		return {pulls, movedItselfAt: button.presses > 0 ? button.lastEdgeAt : null, movedBy: 1};
	}

	if (channel.role !== 'finger' && channel.role !== 'stick') return noMoves;
	const isStick = channel.role === 'stick';
	const needed = isStick ? towardsProofNeeded : features.proof.needed / 2;
	if (features.open[place] === 1 || features.learning[place] === 1) return {...noMoves, pulls: {seen: 0, needed}};
	const isProven = features.proven[place] === 1;
	const seen = isProven
		? needed
		: isStick
			? (features.stick?.towardsProof(place) ?? 0)
			: Math.floor(provingWays(features, place) / 2);
	return {pulls: {seen: Math.min(needed, seen), needed}, ...lastMove(features, place, isProven || isStick)};
}

/** Ways of a finger that count towards its proof; none of a channel that may be a ghost of the one before it. */
export function provingWays(features: Features, a: number): number {
	const {proof, scale} = features;
	const hand = features.handAt(a);
	return hand !== undefined && proof.isItself(a) ? proof.waysAmong(a, hand.others(a), scale.fullScale) : 0;
}

/** The newest trip that goes as far as a proof asks, also while it is still under way. */
function lastMove({analog, proof, scale}: Features, a: number, isItself: boolean): Omit<ChannelMoves, 'pulls'> {
	const {trips, noise} = analog;
	const least = Math.max(noises * noise.of(a), unprovenWay * scale.fullScale);
	if (!isItself && !proof.isItself(a)) return {movedItselfAt: null, movedBy: 0};
	for (let number = trips.count[a] - 1; number >= trips.oldest(a); number--) {
		const place = trips.at(a, number);
		const way = Math.abs(trips.way[place]);
		if (way < least || !proof.counts(a, place)) continue;
		return {movedItselfAt: trips.endAt[place], movedBy: Math.min(1, way / scale.fullScale)};
	}

	return {movedItselfAt: null, movedBy: 0};
}
