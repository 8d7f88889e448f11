/** Frames per block in which counters and clocks are judged. */
export const blockFrames = 64;

/**
 * Share by which a clock's pace may seem to change from block to block where arrival times are made up or come in clumps.
 * A turning arm changes its pace by more within a second (common practice, no source).
 */
const paceSlack = 0.25;

/** Two times of one board in different units run alike but for what they are rounded by. */
const sameTime = 0.05;

/** Arrival times of the first lines lie close together; after so long a clock's unit is certain. */
const slopeSeconds = 1;

/**
 * Owns how columns go on from frame to frame: how often they rose and fell in the block under way and by how much, in how many
 * blocks they rose steadily, and how fast by arrival times. Constant time per value; nothing is allocated.
 */
export class ColumnSteps {
	/** Frames taken. */
	frames = 0;
	readonly last: Float64Array;
	/** A clock's slope has been looked at again after some time; its unit stays from then on. */
	slopeKnown = false;
	private readonly rises: Uint32Array;
	private readonly falls: Uint32Array;
	private readonly plusOnes: Uint32Array;
	/** Falls that land near zero: a wrap or a restart. */
	private readonly resets: Uint32Array;
	/** The size of the first fall, and how many are like it: a counter's wraps. */
	private readonly firstFall: Float64Array;
	private readonly likeFalls: Uint32Array;
	private readonly shortestStep: Float64Array;
	private readonly longestStep: Float64Array;
	/** The column has risen in the last stretch in which it moved at all. */
	private readonly risen: Uint8Array;
	private readonly risingBlocks: Uint32Array;
	/** How fast it rose in the first of the blocks in which it only rose, and its value and the time at the last block's end. */
	private readonly pace: Float64Array;
	private readonly blockValue: Float64Array;
	private blockT = 0;
	/** Arrival time and value at the start, for the slope of clocks. */
	private readonly from: Float64Array;
	private fromT = 0;
	private lastT = 0;
	private readonly unit: Float64Array;

	constructor(count: number) {
		const floats = (value: number): Float64Array => new Float64Array(count).fill(value);
		this.last = floats(Number.NaN);
		this.rises = new Uint32Array(count);
		this.falls = new Uint32Array(count);
		this.plusOnes = new Uint32Array(count);
		this.resets = new Uint32Array(count);
		this.firstFall = floats(0);
		this.likeFalls = new Uint32Array(count);
		this.shortestStep = floats(Number.POSITIVE_INFINITY);
		this.longestStep = floats(0);
		this.risen = new Uint8Array(count);
		this.risingBlocks = new Uint32Array(count);
		this.pace = floats(Number.NaN);
		this.blockValue = floats(Number.NaN);
		this.from = floats(Number.NaN);
		this.unit = floats(Number.NaN);
	}

	/** A frame comes at `t` seconds: its values are to be taken next. */
	begin(t: number): void {
		if (this.frames === 0) this.fromT = t;
		this.lastT = t;
		this.frames++;
	}

	/** Takes a value of a column that is another than before. */
	take(column: number, value: number): void {
		const step = value - this.last[column];
		if (step > 0) this.noteRiseBy(column, step);
		else if (step < 0) this.noteFallBy(column, step, value);
		// The column's first value: there is none to be a step from.
		else this.from[column] = value;
		this.last[column] = value;
	}

	private noteRiseBy(column: number, step: number): void {
		this.rises[column]++;
		if (step === 1) this.plusOnes[column]++;
		if (step < this.shortestStep[column]) this.shortestStep[column] = step;
		if (step > this.longestStep[column]) this.longestStep[column] = step;
	}

	private noteFallBy(column: number, step: number, value: number): void {
		this.falls[column]++;
		if (value <= this.last[column] / 4) this.resets[column]++;
		if (this.firstFall[column] === 0) this.firstFall[column] = step;
		if (step === this.firstFall[column]) this.likeFalls[column]++;
	}

	/** Nearly every step is +1; the others are skips forward and wraps to the start. */
	countsUp(column: number): boolean {
		const steps = this.frames - 1;
		if (steps < 4) return false;
		const falls = this.falls[column];
		if (falls === this.resets[column] && falls <= 1 && this.plusOnes[column] >= 0.8 * steps) return true;
		// A short cycle: every step is +1 or the same fall to the start, of at least two counts.
		const cycles = falls >= 2 && falls === this.likeFalls[column] && this.firstFall[column] <= -2;
		return cycles && this.plusOnes[column] + falls === steps && this.plusOnes[column] >= 1.5 * falls;
	}

	/** Nearly every step of the block was +1. */
	counted(column: number): boolean {
		return this.plusOnes[column] >= 0.9 * (blockFrames - 1);
	}

	/** In the block, half of a counter's frames may be lost; a finger that happened to count does not even do that. */
	stillCounts(column: number): boolean {
		const strays = this.falls[column] - Math.max(this.resets[column], this.likeFalls[column]);
		return this.plusOnes[column] >= 0.5 * this.rises[column] && strays <= 4;
	}

	/** In the block, falls that are no restart were few. */
	stillRises(column: number): boolean {
		return this.falls[column] - this.resets[column] < 4;
	}

	/** Whether the column has risen, but for wraps and restarts: enough where a label says it is a clock or counter. */
	hasRisen(column: number): boolean {
		return this.risen[column] === 1;
	}

	/** Looks whether the column rose in the stretch that is over. */
	noteRise(column: number): void {
		const strays = this.falls[column] - this.resets[column];
		if (strays > 0) this.risen[column] = 0;
		else if (this.rises[column] > 0) this.risen[column] = 1;
	}

	/** Has risen in every frame, by steps of much the same size. */
	risesEvenly(column: number): boolean {
		const steps = this.frames - 1;
		if (steps < 4 || this.falls[column] > 0 || this.rises[column] < steps) return false;
		const slack = Number.isInteger(this.shortestStep[column]) ? 2 : 0;
		return this.longestStep[column] <= 2.2 * this.shortestStep[column] + slack;
	}

	/** Rises in steps that differ by one count or a tenth, which no finger does for long. */
	isSteady(column: number): boolean {
		const shortest = this.shortestStep[column];
		const longest = this.longestStep[column];
		return this.risesEvenly(column) && longest - shortest <= Math.max(1, 0.1 * longest);
	}

	/** Seconds with decimals: steps that hardly differ. An angle that turns has steps of all sizes. */
	hasSteadyFractions(column: number): boolean {
		return !Number.isInteger(this.shortestStep[column]) && this.longestStep[column] <= 1.5 * this.shortestStep[column];
	}

	/** Whether the column runs at a thousand or a million a second of arrival time, but for `slack`. */
	runsTrue(column: number, slack: number): boolean {
		const passed = this.lastT - this.fromT;
		if (passed < 0.05) return false;
		const perSecond = (this.last[column] - this.from[column]) / passed;
		return [1e3, 1e6].some(rate => Math.abs(perSecond / rate - 1) < slack);
	}

	/** Rises with a clock, a thousand or a million times as fast or slow: milliseconds beside microseconds. */
	goesWith(column: number, clock: number): boolean {
		if (this.falls[column] > 0) return false;
		const ratio = (this.last[column] - this.from[column]) / (this.last[clock] - this.from[clock]);
		return [1e3, 1e6, 1e-3, 1e-6].some(unit => Math.abs(ratio / unit - 1) < sameTime);
	}

	/** Blocks in which the column has risen steadily up to now. */
	steadyBlocks(column: number): number {
		return this.risingBlocks[column];
	}

	/** Counts the block that ends now to those in which the column rose as fast as before, or begins to count anew. */
	countRising(column: number): void {
		const rose = this.falls[column] === 0 && this.rises[column] >= 0.9 * (blockFrames - 1);
		const perSecond = (this.last[column] - this.blockValue[column]) / (this.lastT - this.blockT);
		// A clock goes on as fast as it began, also where frames come unevenly; a heading or a level that rises does not.
		const keepsPace = !(Math.abs(perSecond / this.pace[column] - 1) > paceSlack);
		this.risingBlocks[column] = rose && keepsPace ? this.risingBlocks[column] + 1 : rose ? 1 : 0;
		if (this.risingBlocks[column] <= 1) this.pace[column] = perSecond;
	}

	/** A block of frames is over for this column. */
	closeColumn(column: number): void {
		this.blockValue[column] = this.last[column];
		this.noteRise(column);
		this.plusOnes[column] = 0;
		this.likeFalls[column] = 0;
		this.rises[column] = 0;
		this.falls[column] = 0;
		this.resets[column] = 0;
	}

	/** A block of frames is over for all columns. True where enough time has passed, for the first time, to be certain of clocks' units. */
	closeBlock(watched: Uint16Array): boolean {
		this.blockT = this.lastT;
		if (this.slopeKnown || this.lastT - this.fromT < slopeSeconds) return false;
		for (const column of watched) this.unit[column] = this.clockUnitSeconds(column);
		this.slopeKnown = true;
		return true;
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
}
