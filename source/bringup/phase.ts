import {alignPulls} from './align-pulls.ts';
import type {Pull} from './pull-tracker.ts';

/** Share of a finger's pulls that may seem to go the other way. */
const mostAgainst = 0.25;

/** Pulls that a finger may make beyond what is asked for. */
const mostPulls = 4;

/** A pull is less than whole below this share of the channel's longest. */
const wholeShare = 0.5;

/** The reels, or the fingers by themselves: all single pulls of one part of the routine, in order. */
export class Phase {
	private readonly pulls: Pull[] = [];
	/** How often each finger is asked to move. */
	private readonly asked: number;

	constructor(asked: number) {
		this.asked = asked;
	}

	add(pull: Pull): void {
		this.pulls.push(pull);
	}

	get isEmpty(): boolean {
		return this.pulls.length === 0;
	}

	/**
	 * Whether a column's pulls can be a finger's: of one direction, and not many more than were asked for. An open input
	 * that picks up or copies what is beside it comes and goes both ways, again and again.
	 */
	isFinger(column: number): boolean {
		const own = this.pulls.filter(pull => pull.column === column);
		const rising = own.filter(({excursion}) => excursion > 0).length;
		const against = Math.min(rising, own.length - rising);
		return against <= mostAgainst * own.length && own.length <= mostPulls * this.asked;
	}

	/**
	 * The pulls of every finger in order, told apart by order alone: for a recording that nobody was prompted through.
	 * `own[i]`: the column that finger `i` should answer on. `mayAnswer` rules out columns.
	 */
	align(own: readonly number[], mayAnswer: (column: number) => boolean): (readonly Pull[])[] {
		const fingers = this.pulls.filter(
			pull => mayAnswer(pull.column) && this.isFinger(pull.column) && this.isWhole(pull),
		);
		return alignPulls(fingers, own);
	}

	/** False for what a channel does when it only follows a finger whose own channel is dead. */
	private isWhole(pull: Pull): boolean {
		const ways = this.pulls.filter(({column}) => column === pull.column).map(({excursion}) => Math.abs(excursion));
		return Math.abs(pull.excursion) >= wholeShare * Math.max(...ways);
	}
}
