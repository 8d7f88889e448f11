/** What a column has shown so far. */
const unseen = 0;
const constant = 1;
const twoValued = 2;
const analog = 3;

/** Guesses about a column that can be withdrawn once, for good. */
const open = 0;
const held = 1;
const refuted = 2;

/** Frames per block in which counters and clocks are judged. */
const blockFrames = 64;

/** Frames that count as the first ones. */
const earlyFrames = 20;

/** Blocks over which a column must have risen steadily to be taken for a clock late. */
const clockBlocks = 4;

/** Arrival times of the first lines lie close together; after so long a clock's unit is certain. */
const slopeSeconds = 1;

/** Frames in a row that a value must hold to be a press or release, not a flicker at a rail. */
const leastRun = 3;

/** Edges of a first press and its release, with what a bouncing contact adds. */
const pressEdges = 6;

/** Third values that a two-valued column may show (damaged lines) before it is analog. */
const strangersAllowed = 2;

/** Top of a converter or of a firmware's own scale: a column that rests there can be a released button. */
const tops = [100, 255, 1000, 1023, 4095, 65_535];

/** Beyond a 12-bit converter: a column that rises there is no finger. */
const converterTop = 4095;

/**
 * Share by which a clock's pace may seem to change from block to block where arrival times are made up or come in clumps.
 * A turning arm changes its pace by more within a second (common practice, no source).
 */
const paceSlack = 0.25;

/** Two times of one board in different units run alike but for what they are rounded by. */
const sameTime = 0.05;

/** A heading in degrees goes on at the bottom of its circle, of 0 to 360 or of −180 to 180; how near to its ends, in degrees. */
const circleTops = [180, 360];
const nearEnd = 10;

function turnsRound(from: number, to: number): boolean {
	return circleTops.some(top => from <= top && from > top - nearEnd && to >= top - 360 && to < top - 360 + nearEnd);
}

/**
 * Watches the columns of unlabelled frames for what tells their roles: constant, two-valued or analog, rising by one
 * each frame (a counter), rising steadily (a clock). A column's kind only ever moves on, so roles guessed from it are
 * revised a few times at most. Constant time per frame and column; nothing is allocated.
 */
export class ColumnWatch {
	readonly count: number;
	frames = 0;
	readonly kind: Uint8Array;
	/** First and second value of each column. */
	readonly first: Float64Array;
	readonly second: Float64Array;
	readonly counter: Uint8Array;
	readonly clock: Uint8Array;
	/** Set where judging further frames can still change an answer. */
	active = true;
	/** The columns that are still looked at. */
	private watched: Uint16Array;

	private readonly last: Float64Array;
	private readonly lowest: Float64Array;
	private readonly run: Uint32Array;
	private readonly firstRun: Uint32Array;
	private readonly secondRun: Uint32Array;
	private readonly strangers: Uint32Array;
	/** Changes between two values. */
	private readonly edges: Uint32Array;
	/** The column has risen in the last stretch in which it moved at all. */
	private readonly risen: Uint8Array;
	private readonly restedAtOne: Uint8Array;
	private readonly pressed: Uint8Array;
	/** The size of the first fall, and how many are like it: a counter's wraps. */
	private readonly firstFall: Float64Array;
	private readonly likeFalls: Uint32Array;
	private readonly plusOnes: Uint32Array;
	private readonly rises: Uint32Array;
	private readonly falls: Uint32Array;
	/** Falls that land near zero: a wrap or a restart. */
	private readonly resets: Uint32Array;
	private readonly shortestStep: Float64Array;
	private readonly longestStep: Float64Array;
	private readonly risingBlocks: Uint32Array;
	private steps = 0;
	/** It has had a value that is no whole number, or one below 0. */
	private readonly fraction: Uint8Array;
	private readonly below: Uint8Array;
	private readonly printed: Uint8Array;
	/** How fast it rose in the first of the blocks in which it only rose, and its value and the time at the last block's end. */
	private readonly pace: Float64Array;
	private readonly blockValue: Float64Array;
	private blockT = 0;
	/** Arrival time and value at the start, for the slope of clocks. */
	private readonly from: Float64Array;
	private fromT = 0;
	private lastT = 0;
	/** A clock's slope has been looked at again after some time; its unit stays from then on. */
	private slopeKnown = false;
	private readonly unit: Float64Array;

	constructor(count: number) {
		this.count = count;
		this.watched = Uint16Array.from({length: count}, (_, column) => column);
		const floats = (value: number): Float64Array => new Float64Array(count).fill(value);
		this.fraction = new Uint8Array(count);
		this.below = new Uint8Array(count);
		this.printed = new Uint8Array(count);
		this.pace = floats(Number.NaN);
		this.blockValue = floats(Number.NaN);
		this.kind = new Uint8Array(count);
		this.counter = new Uint8Array(count);
		this.clock = new Uint8Array(count);
		this.first = floats(Number.NaN);
		this.second = floats(Number.NaN);
		this.last = floats(Number.NaN);
		this.lowest = floats(Number.POSITIVE_INFINITY);
		this.from = floats(Number.NaN);
		this.unit = floats(Number.NaN);
		this.shortestStep = floats(Number.POSITIVE_INFINITY);
		this.longestStep = floats(0);
		this.run = new Uint32Array(count);
		this.firstRun = new Uint32Array(count);
		this.secondRun = new Uint32Array(count);
		this.strangers = new Uint32Array(count);
		this.edges = new Uint32Array(count);
		this.risen = new Uint8Array(count);
		this.restedAtOne = new Uint8Array(count);
		this.pressed = new Uint8Array(count);
		this.firstFall = floats(0);
		this.likeFalls = new Uint32Array(count);
		this.plusOnes = new Uint32Array(count);
		this.rises = new Uint32Array(count);
		this.falls = new Uint32Array(count);
		this.resets = new Uint32Array(count);
		this.risingBlocks = new Uint32Array(count);
	}

	/** Takes a frame. True where what is known of a column has changed. */
	take(t: number, values: Float64Array): boolean {
		if (this.frames === 0) this.fromT = t;
		this.lastT = t;
		let changed = false;
		const {watched} = this;
		for (let i = 0; i < watched.length; i++) {
			const column = watched[i];
			const value = values[column];
			if (Number.isNaN(value)) continue;
			if (this.takeValue(column, value)) changed = true;
		}

		this.frames++;
		if (this.frames > 1) this.steps++;
		if (this.frames % blockFrames === 0 && this.closeBlock()) changed = true;
		return changed;
	}

	/** One column's value of a frame. True where what is known of the column has changed. */
	private takeValue(column: number, value: number): boolean {
		let changed = this.kind[column] !== analog && this.takeKind(column, value);
		const step = value - this.last[column];
		if (step > 0) this.noteRiseBy(column, step);
		else if (step < 0 && this.noteFallBy(column, step, value)) changed = true;
		if (this.noteRange(column, value)) changed = true;
		if (Number.isNaN(this.from[column])) this.from[column] = value;
		this.last[column] = value;
		return changed;
	}

	private noteRiseBy(column: number, step: number): void {
		this.rises[column]++;
		if (step === 1) this.plusOnes[column]++;
		if (step < this.shortestStep[column]) this.shortestStep[column] = step;
		if (step > this.longestStep[column]) this.longestStep[column] = step;
	}

	/** A fall of `step` to `value`. True where it shows that a clock is a heading that turns round. */
	private noteFallBy(column: number, step: number, value: number): boolean {
		this.falls[column]++;
		const isHeading = this.clock[column] === held && turnsRound(this.last[column], value);
		if (isHeading) this.clock[column] = refuted;
		if (value <= this.last[column] / 4) this.resets[column]++;
		if (this.firstFall[column] === 0) this.firstFall[column] = step;
		if (step === this.firstFall[column]) this.likeFalls[column]++;
		return isHeading;
	}

	/** What numbers the column takes at all. True with its first one below 0 and its first that is not whole. */
	private noteRange(column: number, value: number): boolean {
		let changed = false;
		if (value < this.lowest[column]) {
			this.lowest[column] = value;
			if (value < 0 && this.below[column] === 0) {
				this.below[column] = 1;
				changed = true;
			}
		}

		if (this.fraction[column] === 0 && !Number.isInteger(value)) {
			this.fraction[column] = 1;
			changed = true;
		}

		return changed;
	}

	/** First guesses after a few frames. */
	guess(): void {
		for (let column = 0; column < this.count; column++) {
			if (this.counter[column] === open && this.countsUp(column)) this.counter[column] = held;
			this.noteRise(column);
		}

		const clock = this.likelyClock();
		if (clock >= 0) this.clock[clock] = held;
		// The same time in another unit beside it.
		for (const twin of [clock - 1, clock + 1]) if (clock >= 0 && this.goesWith(twin, clock)) this.clock[twin] = held;
		for (let column = 0; column < this.count; column++) {
			this.restedAtOne[column] = this.restsAtOne(column) ? 1 : 0;
			this.pressed[column] = this.isPressed(column) && this.readsCounts() ? 1 : 0;
		}
	}

	/** Whether a few more lines would settle if some column is a clock or a finger on its way. */
	get undecided(): boolean {
		for (let column = 0; column < this.count; column++) {
			if (!this.countsUp(column) && this.risesEvenly(column) && this.lowest[column] <= converterTop) return true;
		}

		return false;
	}

	isCounter(column: number): boolean {
		return this.counter[column] === held;
	}

	isClock(column: number): boolean {
		return this.clock[column] === held;
	}

	/** Whether the column has risen, but for wraps and restarts: enough where a label says it is a clock or counter. */
	hasRisen(column: number): boolean {
		return this.risen[column] === 1;
	}

	/** Two values with presses and releases between them: 0 and 1, or 0 and a top. */
	isPressed(column: number): boolean {
		if (this.kind[column] !== twoValued) return false;
		const low = Math.min(this.first[column], this.second[column]);
		const high = Math.max(this.first[column], this.second[column]);
		if (low !== 0 || !(high === 1 || high >= 50)) return false;
		if (this.firstRun[column] >= leastRun && this.secondRun[column] >= leastRun) return true;
		// After a few lines a press may be under way still: then few changes tell it from a flicker.
		return this.frames <= earlyFrames && this.edges[column] <= this.frames / 4;
	}

	/**
	 * Whether the column was pressed and let go like a button at once, in the first lines or when it first left the 1 that it
	 * rested at: all that makes one of the first five columns one. A constant one there is a finger.
	 */
	wasPressedAtOnce(column: number): boolean {
		return this.pressed[column] === 1 && this.kind[column] !== analog;
	}

	/** Has had a value that is no whole number. */
	hasFraction(column: number): boolean {
		return this.fraction[column] === 1;
	}

	/** Its values are printed with decimals in every line looked at, be they all 0.00. */
	isPrintedWithDecimals(column: number): boolean {
		return this.printed[column] === 1;
	}

	/** Notes that a column is printed with decimals. */
	notePrinted(column: number): void {
		this.printed[column] = 1;
	}

	/** Has been below 0. */
	wasBelowZero(column: number): boolean {
		return this.below[column] === 1;
	}

	/** Two values so far, of which one is 0 and the other 1 or far off, or one of them alone. */
	isTwoValued(column: number): boolean {
		return this.kind[column] === twoValued && this.canBeButton(column);
	}

	/** Whether the column may be a button, where its place suggests one. */
	canBeButton(column: number): boolean {
		if (this.kind[column] === analog) return false;
		if (this.kind[column] === constant)
			return this.first[column] === 0 || this.first[column] === 1 || tops.includes(this.first[column]);
		const low = Math.min(this.first[column], this.second[column]);
		const high = Math.max(this.first[column], this.second[column]);
		return this.kind[column] === unseen || (low === 0 && (high === 1 || high >= 50));
	}

	/** Has been 0 or 1 so far and nothing else: a button that nobody has pressed, or whatever else is idle. */
	restsAtEnd(column: number): boolean {
		return this.kind[column] === constant && (this.first[column] === 0 || this.first[column] === 1);
	}

	/** Rests at 1 and has never been anything else: a button with a pull-up. */
	restsAtOne(column: number): boolean {
		return this.kind[column] === constant && this.first[column] === 1;
	}

	/**
	 * Seconds per unit of a clock column. The slope against arrival times decides where enough of them have passed, else
	 * the size of the steps: tens are milliseconds, thousands are microseconds, fractions are seconds.
	 */
	clockUnitSeconds(column: number): number {
		if (!Number.isNaN(this.unit[column])) return this.unit[column];
		const passed = this.lastT - this.fromT;
		const risen = this.last[column] - this.from[column];
		if (passed >= 0.05 && risen > 0) {
			const perSecond = risen / passed;
			for (const unit of [1, 0.001, 1e-6]) {
				// Half a decade to either side: made-up arrival times may be that wrong.
				if (perSecond * unit > 0.316 && perSecond * unit < 3.16) return unit;
			}
		}

		if (this.shortestStep[column] >= 500) return 1e-6;
		return Number.isInteger(this.shortestStep[column]) ? 0.001 : 1;
	}

	/** Readings are counts: where none is above 1 a column between 0 and 1 is a scaled finger that clips. */
	private readsCounts(): boolean {
		return this.last.some((value, column) => value > 1 && this.counter[column] !== held && this.clock[column] !== held);
	}

	private takeKind(column: number, value: number): boolean {
		const before = this.kind[column];
		// It stays as it was for long enough: nothing can change.
		if (value === this.last[column] && this.run[column] > leastRun) {
			this.run[column]++;
			this.noteRun(column, value);
			return false;
		}

		const pressedBefore = before === twoValued && this.isPressed(column);
		if (value === this.last[column]) this.run[column]++;
		else {
			this.run[column] = 1;
			if (before !== unseen) this.edges[column]++;
		}

		this.noteKind(column, value);
		this.noteRun(column, value);
		const isPressed = this.isPressed(column);
		if (isPressed && !pressedBefore && this.isFirstPress(column)) this.pressed[column] = 1;
		return before !== this.kind[column] || pressedBefore !== isPressed;
	}

	/** The longest run of each of the two values. */
	private noteRun(column: number, value: number): void {
		const runs = value === this.first[column] ? this.firstRun : value === this.second[column] ? this.secondRun : null;
		if (runs !== null && this.run[column] > runs[column]) runs[column] = this.run[column];
	}

	/** A button that rested at 1 and left it for the first time, beside columns that read counts. */
	private isFirstPress(column: number): boolean {
		return this.restedAtOne[column] === 1 && this.edges[column] <= pressEdges && this.readsCounts();
	}

	/** Moves the kind on: constant, two-valued, analog. */
	private noteKind(column: number, value: number): void {
		const before = this.kind[column];
		if (before === unseen) {
			this.first[column] = value;
			this.kind[column] = constant;
		} else if (value === this.first[column]) {
			// Known already.
		} else if (before === constant) {
			this.second[column] = value;
			this.kind[column] = twoValued;
		} else if (value !== this.second[column]) {
			this.strangers[column]++;
			// Values next to each other are a converter's noise; whole strangers beside 0 and 1 can only be damage, while
			// fractions are a finger on a scale of 0 to 1 that began at its ends.
			if (!Number.isInteger(value) || this.strangers[column] > strangersAllowed || !this.canBeButton(column))
				this.kind[column] = analog;
		}
	}

	/** Nearly every step is +1; the others are skips forward and wraps to the start. */
	private countsUp(column: number): boolean {
		if (this.steps < 4) return false;
		const falls = this.falls[column];
		if (falls === this.resets[column] && falls <= 1 && this.plusOnes[column] >= 0.8 * this.steps) return true;
		// A short cycle: every step is +1 or the same fall to the start, of at least two counts.
		const cycles = falls >= 2 && falls === this.likeFalls[column] && this.firstFall[column] <= -2;
		return cycles && this.plusOnes[column] + falls === this.steps && this.plusOnes[column] >= 1.5 * falls;
	}

	private noteRise(column: number): void {
		const strays = this.falls[column] - this.resets[column];
		if (strays > 0) this.risen[column] = 0;
		else if (this.rises[column] > 0) this.risen[column] = 1;
	}

	/** Has risen in every frame, by steps of much the same size. */
	risesEvenly(column: number): boolean {
		if (this.steps < 4 || this.falls[column] > 0 || this.rises[column] < this.steps) return false;
		const slack = Number.isInteger(this.shortestStep[column]) ? 2 : 0;
		return this.longestStep[column] <= 2.2 * this.shortestStep[column] + slack;
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
			if (this.counter[column] === held) continue;
			if (this.isSteady(column)) steady++;
			if (!(column >= 5 && this.canBeButton(column))) analogs++;
		}

		const leavesGlove = analogs === 6 || analogs === 8;
		for (let column = 0; column < this.count; column++) {
			if (this.isLikelyClock(column, leavesGlove, steady === 1)) return column;
		}

		return -1;
	}

	/** `leavesGlove`: the others are a whole glove; `oneSteady`: there is only one column whose steps hardly differ. */
	private isLikelyClock(column: number, leavesGlove: boolean, oneSteady: boolean): boolean {
		if (this.counter[column] !== open || this.clock[column] !== open || !this.risesEvenly(column)) return false;
		if (this.lowest[column] > converterTop) return true;
		if (this.count === 1 || !this.isAtEdge(column)) return false;
		// Clocks stand in front as a rule; at the end a finger or an axis on its way is likelier.
		const expected = leavesGlove && column <= 1;
		const slack = expected ? 0.25 : 0.05;
		if (this.runsTrue(column, slack) || this.hasSteadyFractions(column)) return true;
		return expected && oneSteady && this.isSteady(column);
	}

	/** Rises with a clock, a thousand or a million times as fast or slow: milliseconds beside microseconds. */
	private goesWith(column: number, clock: number): boolean {
		if (column < 0 || column >= this.count || this.counter[column] === held || this.falls[column] > 0) return false;
		const ratio = (this.last[column] - this.from[column]) / (this.last[clock] - this.from[clock]);
		return [1e3, 1e6, 1e-3, 1e-6].some(unit => Math.abs(ratio / unit - 1) < sameTime);
	}

	/** First or last, a counter beside it not counted. */
	private isAtEdge(column: number): boolean {
		const last = this.count - 1;
		if (column === 0 || column === last) return true;
		return (column === 1 && this.counter[0] === held) || (column === last - 1 && this.counter[last] === held);
	}

	/** Rises in steps that differ by one count or a tenth, which no finger does for long. */
	private isSteady(column: number): boolean {
		const shortest = this.shortestStep[column];
		const longest = this.longestStep[column];
		return this.risesEvenly(column) && longest - shortest <= Math.max(1, 0.1 * longest);
	}

	/** Seconds with decimals: steps that hardly differ. An angle that turns has steps of all sizes. */
	private hasSteadyFractions(column: number): boolean {
		return !Number.isInteger(this.shortestStep[column]) && this.longestStep[column] <= 1.5 * this.shortestStep[column];
	}

	/** Whether the column runs at a thousand or a million a second of arrival time, but for `slack`. */
	private runsTrue(column: number, slack: number): boolean {
		const passed = this.lastT - this.fromT;
		if (passed < 0.05) return false;
		const perSecond = (this.last[column] - this.from[column]) / passed;
		return [1e3, 1e6].some(rate => Math.abs(perSecond / rate - 1) < slack);
	}

	private closeBlock(): boolean {
		let changed = false;
		const early = this.frames <= 2 * blockFrames;
		for (const column of this.watched) {
			if (this.judgeCounter(column)) changed = true;
			if (this.judgeClock(column)) changed = true;
			this.blockValue[column] = this.last[column];
			this.noteRise(column);
			this.plusOnes[column] = 0;
			this.likeFalls[column] = 0;
			this.rises[column] = 0;
			this.falls[column] = 0;
			this.resets[column] = 0;
		}

		this.blockT = this.lastT;
		if (!this.slopeKnown && this.lastT - this.fromT >= slopeSeconds) {
			for (const column of this.watched) this.unit[column] = this.clockUnitSeconds(column);
			this.slopeKnown = true;
			changed = true;
		}

		if (!early) {
			if (this.hasIdleColumn()) this.watched = this.watched.filter(column => this.isWorthWatching(column));
			this.active = !this.slopeKnown || this.watched.length > 0;
		}

		return changed;
	}

	/** Holds a column for a counter, or no longer, by the block that ends now. True where that has changed. */
	private judgeCounter(column: number): boolean {
		if (this.counter[column] === held) {
			// Half of the frames may be lost; a finger that happened to count does not even do that.
			const strays = this.falls[column] - Math.max(this.resets[column], this.likeFalls[column]);
			if (this.plusOnes[column] >= 0.5 * this.rises[column] && strays <= 4) return false;
			this.counter[column] = refuted;
			return true;
		}

		const counted = this.plusOnes[column] >= 0.9 * (blockFrames - 1) && this.kind[column] === analog;
		if (this.counter[column] !== open || !counted) return false;
		this.counter[column] = held;
		if (this.clock[column] === held) this.clock[column] = refuted;
		return true;
	}

	/** Holds a column for a clock, or no longer, by the block that ends now. True where that has changed. */
	private judgeClock(column: number): boolean {
		if (this.clock[column] === held) {
			if (this.falls[column] - this.resets[column] < 4) return false;
			this.clock[column] = refuted;
			return true;
		}

		if (this.clock[column] !== open || this.counter[column] === held) return false;
		const rose = this.falls[column] === 0 && this.rises[column] >= 0.9 * (blockFrames - 1);
		this.risingBlocks[column] = rose && this.keepsPace(column) ? this.risingBlocks[column] + 1 : rose ? 1 : 0;
		if (this.risingBlocks[column] <= 1) this.pace[column] = this.paceOf(column);
		if (this.risingBlocks[column] < clockBlocks || this.clock.includes(held)) return false;
		this.clock[column] = held;
		return true;
	}

	/** Rise per second of the block that ends now. */
	private paceOf(column: number): number {
		return (this.last[column] - this.blockValue[column]) / (this.lastT - this.blockT);
	}

	/** A clock goes on as fast as it began, also where frames come unevenly; a heading or a level that rises does not. */
	private keepsPace(column: number): boolean {
		const pace = this.paceOf(column);
		return !(Math.abs(pace / this.pace[column] - 1) > paceSlack);
	}

	private hasIdleColumn(): boolean {
		for (const column of this.watched) if (!this.isWorthWatching(column)) return true;
		return false;
	}

	/** Analog columns are what they are once they have failed to count or rise for some blocks. */
	private isWorthWatching(column: number): boolean {
		if (this.kind[column] !== analog) return true;
		return this.counter[column] === held || this.clock[column] === held || this.risingBlocks[column] > 0;
	}
}
