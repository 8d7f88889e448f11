import {ColumnKinds} from './column-kinds.ts';
import {blockFrames, ColumnSteps} from './column-steps.ts';

/** Guesses about a column that can be withdrawn once, for good. */
const open = 0;
const held = 1;
const refuted = 2;

/** Blocks over which a column must have risen steadily to be taken for a clock late. */
const clockBlocks = 4;

/** Beyond a 12-bit converter: a column that rises there is no finger. */
const converterTop = 4095;

/** A heading in degrees goes on at the bottom of its circle, of 0 to 360 or of −180 to 180; how near to its ends, in degrees. */
const circleTops = [180, 360];
const nearEnd = 10;

function turnsRound(from: number, to: number): boolean {
	return circleTops.some(top => from <= top && from > top - nearEnd && to >= top - 360 && to < top - 360 + nearEnd);
}

/**
 * Watches the columns of unlabelled frames for what tells their roles. Owns which of them are held for counters (rising by one
 * each frame), clocks (rising steadily) and buttons that were pressed at once, and which are still looked at; what values they
 * take and how they go on stands in `ColumnKinds` and `ColumnSteps`. A guess is withdrawn once at most, so roles made of them
 * are revised a few times at most. Constant time per frame and column; nothing is allocated.
 */
export class ColumnWatch {
	readonly count: number;
	/** Set where judging further frames can still change an answer. */
	active = true;
	readonly kinds: ColumnKinds;
	readonly steps: ColumnSteps;
	/** The columns that are still looked at. */
	private watched: Uint16Array;
	private readonly counter: Uint8Array;
	private readonly clock: Uint8Array;
	private readonly restedAtOne: Uint8Array;
	private readonly pressed: Uint8Array;

	constructor(count: number) {
		this.count = count;
		this.kinds = new ColumnKinds(count);
		this.steps = new ColumnSteps(count);
		this.watched = Uint16Array.from({length: count}, (_, column) => column);
		this.counter = new Uint8Array(count);
		this.clock = new Uint8Array(count);
		this.restedAtOne = new Uint8Array(count);
		this.pressed = new Uint8Array(count);
	}

	/** Frames taken. */
	get frames(): number {
		return this.steps.frames;
	}

	/** Takes a frame. True where what is known of a column has changed. */
	take(t: number, values: Float64Array): boolean {
		const {steps, watched} = this;
		steps.begin(t);
		let changed = false;
		for (let i = 0; i < watched.length; i++) {
			const column = watched[i];
			const value = values[column];
			if (Number.isNaN(value)) continue;
			if (this.takeValue(column, value)) changed = true;
		}

		if (steps.frames % blockFrames === 0 && this.closeBlock()) changed = true;
		return changed;
	}

	/** One column's value of a frame. True where what is known of the column has changed. */
	private takeValue(column: number, value: number): boolean {
		const {kinds, steps} = this;
		const last = steps.last[column];
		const isSame = value === last;
		let changed = false;
		if (!kinds.isAnalog(column) && kinds.take(column, value, isSame, steps.frames - 1)) {
			changed = true;
			if (this.isPressed(column, steps.frames - 1) && this.isFirstPress(column)) this.pressed[column] = 1;
		}

		// It is no step, and nothing new about the numbers that the column takes.
		if (isSame) return changed;
		if (value < last && this.clock[column] === held && turnsRound(last, value)) {
			this.clock[column] = refuted;
			changed = true;
		}

		steps.take(column, value);
		if (kinds.noteRange(column, value)) changed = true;
		return changed;
	}

	/** First guesses after a few frames. */
	guess(): void {
		const {steps, kinds} = this;
		for (let column = 0; column < this.count; column++) {
			if (this.counter[column] === open && steps.countsUp(column)) this.counter[column] = held;
			steps.noteRise(column);
		}

		const clock = this.likelyClock();
		if (clock >= 0) this.clock[clock] = held;
		// The same time in another unit beside it.
		for (const twin of [clock - 1, clock + 1]) if (clock >= 0 && this.goesWith(twin, clock)) this.clock[twin] = held;
		for (let column = 0; column < this.count; column++) {
			this.restedAtOne[column] = kinds.restsAtOne(column) ? 1 : 0;
			this.pressed[column] = this.isPressed(column) && this.readsCounts() ? 1 : 0;
		}
	}

	/** Whether a few more lines would settle if some column is a clock or a finger on its way. */
	get undecided(): boolean {
		const {steps, kinds} = this;
		for (let column = 0; column < this.count; column++) {
			if (steps.countsUp(column) || !steps.risesEvenly(column)) continue;
			if (!kinds.staysAbove(column, converterTop)) return true;
		}

		return false;
	}

	isCounter(column: number): boolean {
		return this.counter[column] === held;
	}

	isClock(column: number): boolean {
		return this.clock[column] === held;
	}

	/** Two values with presses and releases between them: 0 and 1, or 0 and a top. */
	isPressed(column: number, frames = this.frames): boolean {
		return this.kinds.isPressed(column, frames);
	}

	/**
	 * Whether the column was pressed and let go like a button at once, in the first lines or when it first left the 1 that it
	 * rested at: all that makes one of the first five columns one. A constant one there is a finger.
	 */
	wasPressedAtOnce(column: number): boolean {
		return this.pressed[column] === 1 && !this.kinds.isAnalog(column);
	}

	/** Readings are counts: where none is above 1 a column between 0 and 1 is a scaled finger that clips. */
	private readsCounts(): boolean {
		const {last} = this.steps;
		return last.some((value, column) => value > 1 && !this.isCounter(column) && !this.isClock(column));
	}

	/** A button that rested at 1 and left it for the first time, beside columns that read counts. */
	private isFirstPress(column: number): boolean {
		return this.restedAtOne[column] === 1 && this.kinds.isFirstPress(column) && this.readsCounts();
	}

	/**
	 * The column that is a clock after a few lines, or -1. Fingers rise too, for a while: so it must rise evenly, and
	 * either pass what a converter gives, or stand at an edge and have fractions, run at a thousand or a million a second
	 * of arrival time, or stand in front, be the only one whose steps hardly differ, and leave five or seven analog columns.
	 */
	private likelyClock(): number {
		let steady = 0;
		let analogs = 0;
		for (let column = 0; column < this.count; column++) {
			if (this.isCounter(column)) continue;
			if (this.steps.isSteady(column)) steady++;
			if (!(column >= 5 && this.kinds.canBeButton(column))) analogs++;
		}

		const leavesGlove = analogs === 6 || analogs === 8;
		for (let column = 0; column < this.count; column++) {
			if (this.isLikelyClock(column, leavesGlove, steady === 1)) return column;
		}

		return -1;
	}

	/** `leavesGlove`: the others are a whole glove; `oneSteady`: there is only one column whose steps hardly differ. */
	private isLikelyClock(column: number, leavesGlove: boolean, oneSteady: boolean): boolean {
		const {steps} = this;
		if (this.counter[column] !== open || this.clock[column] !== open || !steps.risesEvenly(column)) return false;
		if (this.kinds.staysAbove(column, converterTop)) return true;
		if (this.count === 1 || !this.isAtEdge(column)) return false;
		// Clocks stand in front as a rule; at the end a finger or an axis on its way is likelier.
		const expected = leavesGlove && column <= 1;
		const slack = expected ? 0.25 : 0.05;
		if (steps.runsTrue(column, slack) || steps.hasSteadyFractions(column)) return true;
		return expected && oneSteady && steps.isSteady(column);
	}

	/** A column beside a clock that shows the same time in another unit. */
	private goesWith(column: number, clock: number): boolean {
		return column >= 0 && column < this.count && !this.isCounter(column) && this.steps.goesWith(column, clock);
	}

	/** First or last, a counter beside it not counted. */
	private isAtEdge(column: number): boolean {
		const last = this.count - 1;
		if (column === 0 || column === last) return true;
		return (column === 1 && this.isCounter(0)) || (column === last - 1 && this.isCounter(last));
	}

	private closeBlock(): boolean {
		const {steps} = this;
		let changed = false;
		for (const column of this.watched) {
			if (this.judgeCounter(column)) changed = true;
			if (this.judgeClock(column)) changed = true;
			steps.closeColumn(column);
		}

		if (steps.closeBlock(this.watched)) changed = true;
		if (steps.frames > 2 * blockFrames) {
			if (this.hasIdleColumn()) this.watched = this.watched.filter(column => this.isWorthWatching(column));
			this.active = !steps.slopeKnown || this.watched.length > 0;
		}

		return changed;
	}

	/** Holds a column for a counter, or no longer, by the block that ends now. True where that has changed. */
	private judgeCounter(column: number): boolean {
		if (this.isCounter(column)) {
			if (this.steps.stillCounts(column)) return false;
			this.counter[column] = refuted;
			return true;
		}

		const counted = this.steps.counted(column) && this.kinds.isAnalog(column);
		if (this.counter[column] !== open || !counted) return false;
		this.counter[column] = held;
		if (this.isClock(column)) this.clock[column] = refuted;
		return true;
	}

	/** Holds a column for a clock, or no longer, by the block that ends now. True where that has changed. */
	private judgeClock(column: number): boolean {
		if (this.isClock(column)) {
			if (this.steps.stillRises(column)) return false;
			this.clock[column] = refuted;
			return true;
		}

		if (this.clock[column] !== open || this.isCounter(column)) return false;
		this.steps.countRising(column);
		if (this.steps.steadyBlocks(column) < clockBlocks || this.clock.includes(held)) return false;
		this.clock[column] = held;
		return true;
	}

	private hasIdleColumn(): boolean {
		for (const column of this.watched) if (!this.isWorthWatching(column)) return true;
		return false;
	}

	/** Analog columns are what they are once they have failed to count or rise for some blocks. */
	private isWorthWatching(column: number): boolean {
		if (!this.kinds.isAnalog(column)) return true;
		return this.isCounter(column) || this.isClock(column) || this.steps.steadyBlocks(column) > 0;
	}
}
