/** What a column has shown so far. */
const unseen = 0;
const constant = 1;
const twoValued = 2;
const analog = 3;

/** Frames that count as the first ones. */
const earlyFrames = 20;

/** Frames in a row that a value must hold to be a press or release, not a flicker at a rail. */
const leastRun = 3;

/** Edges of a first press and its release, with what a bouncing contact adds. */
const pressEdges = 6;

/** Third values that a two-valued column may show (damaged lines) before it is analog. */
const strangersAllowed = 2;

/** Top of a converter or of a firmware's own scale: a column that rests there can be a released button. */
const tops = [100, 255, 1000, 1023, 4095, 65_535];

/**
 * Owns what values columns take: constant, two-valued or analog, how long each of two values held, how low they were, and
 * whether they are whole numbers. A column's kind only ever moves on. Constant time per value; nothing is allocated.
 */
export class ColumnKinds {
	private readonly kind: Uint8Array;
	/** First and second value of each column. */
	private readonly first: Float64Array;
	private readonly second: Float64Array;
	private readonly lowest: Float64Array;
	private readonly run: Uint32Array;
	private readonly firstRun: Uint32Array;
	private readonly secondRun: Uint32Array;
	private readonly strangers: Uint32Array;
	/** Changes between two values. */
	private readonly edges: Uint32Array;
	/** It has had a value that is no whole number, or one below 0. */
	private readonly fraction: Uint8Array;
	private readonly below: Uint8Array;
	private readonly printed: Uint8Array;

	constructor(count: number) {
		this.kind = new Uint8Array(count);
		this.first = new Float64Array(count).fill(Number.NaN);
		this.second = new Float64Array(count).fill(Number.NaN);
		this.lowest = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
		this.run = new Uint32Array(count);
		this.firstRun = new Uint32Array(count);
		this.secondRun = new Uint32Array(count);
		this.strangers = new Uint32Array(count);
		this.edges = new Uint32Array(count);
		this.fraction = new Uint8Array(count);
		this.below = new Uint8Array(count);
		this.printed = new Uint8Array(count);
	}

	/**
	 * Takes a value of a column that is not analog yet; `isSame`: it is the one before, `frames`: those before this one. True
	 * where its kind has changed, or whether it is pressed.
	 */
	take(column: number, value: number, isSame: boolean, frames: number): boolean {
		// It stays as it was for long enough: nothing can change, and no longer run says more.
		if (isSame && this.run[column] > leastRun) return false;
		return this.takeEdge(column, value, isSame, frames);
	}

	/** Notes what numbers a column takes at all. True with its first one below 0 and its first that is not whole. */
	noteRange(column: number, value: number): boolean {
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

	/** Notes that a column is printed with decimals. */
	notePrinted(column: number): void {
		this.printed[column] = 1;
	}

	isAnalog(column: number): boolean {
		return this.kind[column] === analog;
	}

	/** Two values with presses and releases between them, after so many frames: 0 and 1, or 0 and a top. */
	isPressed(column: number, frames: number): boolean {
		if (this.kind[column] !== twoValued || !this.areButtonValues(column)) return false;
		if (this.firstRun[column] >= leastRun && this.secondRun[column] >= leastRun) return true;
		// After a few lines a press may be under way still: then few changes tell it from a flicker.
		return frames <= earlyFrames && this.edges[column] <= frames / 4;
	}

	/** Few enough changes for a first press and its release. */
	isFirstPress(column: number): boolean {
		return this.edges[column] <= pressEdges;
	}

	/** Two values so far, of which one is 0 and the other 1 or far off, or one of them alone. */
	isTwoValued(column: number): boolean {
		return this.kind[column] === twoValued && this.areButtonValues(column);
	}

	/** Whether the column may be a button, where its place suggests one. */
	canBeButton(column: number): boolean {
		if (this.kind[column] === analog) return false;
		if (this.kind[column] === constant)
			return this.first[column] === 0 || this.first[column] === 1 || tops.includes(this.first[column]);
		return this.kind[column] === unseen || this.areButtonValues(column);
	}

	/** Has been 0 or 1 so far and nothing else: a button that nobody has pressed, or whatever else is idle. */
	restsAtEnd(column: number): boolean {
		return this.kind[column] === constant && (this.first[column] === 0 || this.first[column] === 1);
	}

	/** Rests at 1 and has never been anything else: a button with a pull-up. */
	restsAtOne(column: number): boolean {
		return this.kind[column] === constant && this.first[column] === 1;
	}

	/** Has had a value that is no whole number. */
	hasFraction(column: number): boolean {
		return this.fraction[column] === 1;
	}

	/** Its values are printed with decimals in every line looked at, be they all 0.00. */
	isPrintedWithDecimals(column: number): boolean {
		return this.printed[column] === 1;
	}

	/** Has been below 0. */
	wasBelowZero(column: number): boolean {
		return this.below[column] === 1;
	}

	/** Whether all its values were higher than `value`. */
	staysAbove(column: number, value: number): boolean {
		return this.lowest[column] > value;
	}

	/** One of the two values is 0 and the other 1 or far off. */
	private areButtonValues(column: number): boolean {
		const low = Math.min(this.first[column], this.second[column]);
		const high = Math.max(this.first[column], this.second[column]);
		return low === 0 && (high === 1 || high >= 50);
	}

	/** A value that is another than before, or has not been there for long. */
	private takeEdge(column: number, value: number, isSame: boolean, frames: number): boolean {
		const before = this.kind[column];
		const pressedBefore = this.isPressed(column, frames);
		if (isSame) this.run[column]++;
		else {
			this.run[column] = 1;
			if (before !== unseen) this.edges[column]++;
		}

		this.noteKind(column, value);
		this.noteRun(column, value);
		return before !== this.kind[column] || pressedBefore !== this.isPressed(column, frames);
	}

	/** The longest run of each of the two values. */
	private noteRun(column: number, value: number): void {
		const runs = value === this.first[column] ? this.firstRun : value === this.second[column] ? this.secondRun : null;
		if (runs !== null && this.run[column] > runs[column]) runs[column] = this.run[column];
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
}
