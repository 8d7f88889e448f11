import type {Features} from '../features/features.ts';
import {unprovenWay} from '../features/proof.ts';
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

/** Presses that prove a button; sides and returns that prove a stick's axis (check-values D2). */
const pressesNeeded = 2;
const pushesNeeded = 4;

/** A movement goes as far as a proof asks: so many rest noises, and this share of full scale at least. */
const noises = 12;

/** What the channel has done in this epoch. */
export function movesOf(features: Features, channel: Channel): ChannelMoves {
	const place = features.placeOf[channel.index];
	if (channel.role === 'button') {
		const button = features.buttons[place];
		if (button.isSpare) return noMoves;
		const seen = Math.min(pressesNeeded, button.latestPresses(pressesNeeded).clean);
		const pulls = {seen: button.isProven ? pressesNeeded : seen, needed: pressesNeeded};
		return {pulls, movedItselfAt: button.presses > 0 ? button.lastEdgeAt : null, movedBy: 1};
	}

	if (channel.role !== 'finger' && channel.role !== 'stick') return noMoves;
	const isStick = channel.role === 'stick';
	const needed = isStick ? pushesNeeded : features.proof.needed / 2;
	if (features.open[place] === 1 || features.learning[place] === 1) return {...noMoves, pulls: {seen: 0, needed}};
	const isProven = features.proven[place] === 1;
	const seen = isProven ? needed : isStick ? (features.stick?.towardsProof(place) ?? 0) : pullsSeen(features, place);
	return {pulls: {seen: Math.min(needed, seen), needed}, ...lastMove(features, place, isProven || isStick)};
}

function pullsSeen(features: Features, a: number): number {
	const {proof, scale} = features;
	const hand = features.handAt(a);
	if (hand === undefined || !proof.isItself(a)) return 0;
	return Math.floor(
		proof.waysAmong(
			a,
			hand.fingers.filter(f => hand.out[f] === 0),
			scale.fullScale,
		) / 2,
	);
}

/** The newest trip that goes far enough, also while it is still under way. */
function lastMove({analog, proof, scale}: Features, a: number, isItself: boolean): Omit<ChannelMoves, 'pulls'> {
	const {trips, noise} = analog;
	const least = Math.max(noises * noise.of(a), unprovenWay * scale.fullScale);
	if (!isItself && !proof.isItself(a)) return {movedItselfAt: null, movedBy: 0};
	for (let number = trips.count[a] - 1; number >= trips.oldest(a); number--) {
		const place = trips.at(a, number);
		const way = Math.abs(trips.way[place]);
		if (way < least || trips.held[place] === 0 || trips.startAt[place] < proof.since[a]) continue;
		return {movedItselfAt: trips.endAt[place], movedBy: Math.min(1, way / scale.fullScale)};
	}

	return {movedItselfAt: null, movedBy: 0};
}
