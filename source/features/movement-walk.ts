import type {Features, Watch} from './features.ts';
import type {Hand} from './hand.ts';
import {nearSeconds, ownTrip} from './own-trip.ts';
import {decidedUntil} from './rests.ts';
import type {StateBlock} from './state-block.ts';

/** What measures something on each whole-hand movement. */
export type MovementTaker = {
	/**
	 * Takes the movement at `place` of the hand's rings, seen from finger `f`. It may come a second time, under another
	 * place, when the hand has been grouped anew.
	 */
	takeMovement(features: Features, hand: Hand, f: number, place: number): void;
};

const nobody: readonly number[] = [];

/** Grouped anew, a movement may set out so much earlier or later, seconds: with another of its fingers. */
const slackSeconds = 2 * nearSeconds;

/**
 * Shows each whole-hand movement of each finger to those who measure on it, in order, as soon as it is over and it is
 * decided which trip the finger itself made meanwhile.
 */
export class MovementWalk implements Watch {
	/** Whole-hand movements in which the finger made a trip itself, either way. */
	readonly tookPart: Int32Array;
	/** When the last movement shown set out, seconds, per finger; and the trip that counted last. */
	private readonly shown: Float64Array;
	private readonly lastTrip: Int32Array;
	/** Changes of the finger's trips, changes of its hand and ripe movements when all of them had been shown; NaN else. */
	private readonly walkedBy: Float64Array;

	constructor(
		channels: number,
		state: StateBlock,
		private readonly takers: readonly MovementTaker[],
	) {
		this.tookPart = state.ints(channels);
		this.shown = state.floats(channels, Number.NEGATIVE_INFINITY);
		this.lastTrip = state.ints(channels, -1);
		this.walkedBy = state.floats(3 * channels, Number.NaN);
	}

	close(features: Features): void {
		for (const hand of features.hands)
			for (const f of hand.fingers) if (hand.ripe[f] > 0 && features.isFinger(f)) this.walk(features, hand, f);
	}

	forget(a: number): void {
		this.tookPart[a] = 0;
		this.shown[a] = Number.NEGATIVE_INFINITY;
		this.lastTrip[a] = -1;
		this.walkedBy[3 * a] = Number.NaN;
	}

	private walk(features: Features, hand: Hand, f: number): void {
		const {walkedBy} = this;
		const {changes} = features.analog.trips;
		// What was shown to the end would be shown again, and nobody takes that in twice.
		if (
			walkedBy[3 * f] === changes[f] &&
			walkedBy[3 * f + 1] === hand.changes[0] &&
			walkedBy[3 * f + 2] === hand.ripe[f]
		)
			return;
		const oldest = hand.oldest(f);
		let number = hand.ripe[f];
		while (number > oldest && hand.outAt[hand.at(f, number - 1)] > this.shown[f] - slackSeconds) number--;
		if (number === hand.ripe[f]) return;
		const decided = decidedUntil(features, nobody, f) - nearSeconds;
		for (; number < hand.ripe[f]; number++) {
			const place = hand.at(f, number);
			if (hand.outAt[place] > decided) return;
			this.shown[f] = Math.max(this.shown[f], hand.outAt[place]);
			const trip = ownTrip(features.analog.trips, hand, f, hand.outAt[place], 0);
			if (trip > this.lastTrip[f]) {
				this.lastTrip[f] = trip;
				this.tookPart[f]++;
			}
			for (const taker of this.takers) taker.takeMovement(features, hand, f, place);
		}
		walkedBy[3 * f] = changes[f];
		walkedBy[3 * f + 1] = hand.changes[0];
		walkedBy[3 * f + 2] = hand.ripe[f];
	}
}
