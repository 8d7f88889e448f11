import type {Features} from '../features/features.ts';
import {itemAt} from '../item-at.ts';
import {Plateaus} from '../ruler/plateaus.ts';
import {markAlong, waysAlong} from '../ruler/ways-along.ts';
import type {HandWatch} from './hand-watch.ts';
import type {KnownSoFar} from './known-so-far.ts';
import type {Pull} from './pull-tracker.ts';
import {readingAt} from './reading-at.ts';
import {RestWatch} from './rest-watch.ts';
import type {Sensing} from './sensing.ts';
import {keptPull, StepAnswers} from './step-answers.ts';
import type {Outcome, StepRecord} from './step-record.ts';
import {type Step, times} from './steps.ts';
import {TurnTracker} from './turn-tracker.ts';

/** Fewest movements of the hand from which ranges can be taken. */
const leastHands = 3;

/** A turn, less what is lost on the way out to the rim. */
const turnLoss = 0.1;

/** What a step's record is made from, beside the step's own answers. */
type RecordParts = {
	readonly features: Features;
	readonly hand: HandWatch;
	readonly known: KnownSoFar;
};

/** One step under way: what has been seen of it. A step that begins anew begins with a new one. */
export class StepWork {
	readonly step: Step;
	/** Stream seconds. */
	readonly startedAt: number;
	/** What it has been answered with that does not fit; null without. */
	hint: string | null = null;
	/** The column that moved in the place of the one asked for; undefined once the right one does. */
	wrong: {readonly column: number; readonly mayBeCrossed: boolean} | undefined;
	/** The column that the wires are crossed with, once somebody has said so. */
	private crossed: number | undefined;
	private counted = 0;
	private answeredAt: number;
	/** When the stick was home for the first time in this step. */
	private homeAt = Number.POSITIVE_INFINITY;
	private readonly answers = new StepAnswers();
	private readonly sticks: Sensing['sticks'];
	private readonly rest: RestWatch | undefined;
	private readonly turns = new TurnTracker();
	private stays: Plateaus | undefined;
	private staysSeen = 0;

	constructor(step: Step, t: number, sensing: Sensing) {
		this.step = step;
		this.startedAt = t;
		this.answeredAt = t;
		this.sticks = sensing.sticks;
		this.rest = step.kind === 'rest' ? new RestWatch([...sensing.fingers, ...sensing.sticks], t) : undefined;
	}

	/** Movements that fitted so far. */
	get count(): number {
		return this.counted;
	}

	get need(): number {
		return times[this.step.kind];
	}

	get isWhole(): boolean {
		return this.counted >= this.need;
	}

	/** Whether what was seen of a step that ends early still answers it. */
	get isEnough(): boolean {
		const {kind} = this.step;
		if (kind === 'rest' || kind === 'stick-around') return false;
		if (kind === 'ruler') return this.counted >= 1;
		return kind === 'hand' ? this.counted >= leastHands : this.counted > 0 && this.counted >= this.need - 1;
	}

	/** Stays along the ruler so far. */
	get marks(): number {
		return this.staysSeen;
	}

	/** Seconds since something last fitted. */
	unansweredFor(t: number): number {
		return t - this.answeredAt;
	}

	/** One more movement that fits. */
	countOne(t: number): void {
		this.counted++;
		this.answeredAt = t;
		this.hint = null;
		this.wrong = undefined;
	}

	/** Movements of the hand that were made before anybody knew that it was its step. */
	countBefore(movements: number): void {
		this.counted = movements;
	}

	/** Keeps a pull, or a press, of another column than was asked for, and which one moved. */
	takeWrong(column: number, mayBeCrossed: boolean, pull?: Pull): void {
		if (pull === undefined) this.answers.addPress(column);
		else this.answers.addPull(pull);
		this.wrong = {column, mayBeCrossed};
	}

	/** The column that moved in the place of the one asked for is the one: what it has done so far counts. */
	takeCrossed(t: number): void {
		if (this.wrong === undefined || !this.wrong.mayBeCrossed) return;
		this.crossed = this.wrong.column;
		this.counted = this.answers.countOf(this.crossed);
		this.answeredAt = t;
		this.wrong = undefined;
		this.hint = null;
	}

	/** Whether a column's movement answers the step: its own, or the one that its wires are crossed with. */
	isAskedOf(column: number, own: number): boolean {
		return column === (this.crossed ?? own);
	}

	/** Counts a pull where its column has more of them than any before. */
	takePull(t: number, pull: Pull): void {
		if (this.answers.addPull(pull) > this.counted) this.countOne(t);
	}

	/** Counts a press, in the same manner. */
	takePress(t: number, column: number): void {
		if (this.answers.addPress(column) > this.counted) this.countOne(t);
	}

	/** Takes the stick's place: a turn is counted once it is whole, or nearly. */
	takeStick(t: number, values: Float64Array, fullScale: number): void {
		const [x, y] = this.sticks;
		if (x === undefined || y === undefined || Number.isNaN(x.rest) || Number.isNaN(y.rest)) return;
		const [right, up] = [readingAt(values, x.column) - x.rest, readingAt(values, y.column) - y.rest];
		this.turns.push(right, up, fullScale / 2);
		if (Math.floor(this.turns.turns + turnLoss) > this.counted) this.countOne(t);
	}

	/**
	 * Takes a reading of the reel whose cord is pulled along a ruler: a way out and back is counted once it is whole. Gives which
	 * mark it stays at, from 0, where a stay has been added, else undefined. `restNoise` and
	 * `fullScale` in the unit of the readings.
	 */
	takeRuler(t: number, reading: number, restNoise: number, fullScale: number): number | undefined {
		this.stays ??= new Plateaus(restNoise, fullScale);
		this.stays.push(t, reading);
		const levels = this.stays.all.map(({level}) => level);
		if (levels.length === this.staysSeen) return undefined;
		this.staysSeen = levels.length;
		this.answeredAt = t;
		if (waysAlong(levels) > this.counted) this.countOne(t);
		return markAlong(levels);
	}

	noteStickHome(t: number): void {
		this.homeAt = Math.min(this.homeAt, t);
	}

	/** A push that began before the stick was let go from the step before is none. */
	isFromHome(push: Pull): boolean {
		return push.from >= this.homeAt;
	}

	isRested(t: number, patienceSeconds: number): boolean {
		return this.rest?.isDone(t, patienceSeconds) === true;
	}

	/** What is kept of the step. */
	record(outcome: Outcome, t: number, {features, hand, known}: RecordParts): StepRecord {
		const {step} = this;
		const base = {id: step.id, outcome, from: this.startedAt, to: t, column: null};
		switch (step.kind) {
			case 'rest':
				return {...base, ...this.rest?.figures(features)};
			case 'hand':
				return {...base, ranges: hand.ranges(), pulls: hand.pulls.map(keptPull)};
			case 'ruler':
				return {
					...base,
					column: outcome === 'done' ? known.columnOf(step.channel) : null,
					stays: this.stays?.all.map(({level}) => level) ?? [],
				};
			case 'stick-around':
				return {...base, reach: this.reach()};
			case 'button': {
				const own = known.columnOf(step.channel);
				const {column, presses} = this.answered(own) ?? this.answers.mostPressed(own);
				return {...base, column: outcome === 'done' ? column : null, presses};
			}

			default: {
				const own = step.kind === 'stick-side' ? -1 : known.columnOf(step.channel);
				const {column, pulls} = this.answered(own) ?? this.answers.mostPulled(own);
				return {...base, column: outcome === 'done' ? column : null, pulls};
			}
		}
	}

	/** What settles the step, however often another column moved: crossed wires, or enough of its own. */
	private answered(own: number) {
		if (this.crossed !== undefined) return this.answers.of(this.crossed);
		return this.answers.countOf(own) >= this.need ? this.answers.of(own) : undefined;
	}

	private reach(): NonNullable<StepRecord['reach']> {
		const {reach} = this.turns;
		return this.sticks.map(({column}, axis) => ({
			column,
			low: itemAt(reach, 2 * axis),
			high: itemAt(reach, 2 * axis + 1),
		}));
	}
}
