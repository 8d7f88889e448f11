import type {Layout} from '../framing/layout.ts';

/** Full scales that converters and firmware use: 10, 12, 14 and 16 bit. */
const wordScales = [1023, 4095, 16_383, 65_535];

/** The same with the supplies of the usual boards in millivolts, and 8 bit. */
const plausibleScales = [255, 1023, 3300, 4095, 5000, 16_383, 65_535];

/** Fewest readings above a scale that disprove it: one or two may be digits run together on the line. */
const readingsToDisprove = 4;

/** 16 bit taken for 10 is 64 times as much. */
const mostRatio = 65;

/** Scales of readings that carry a unit: millivolts and volts of a 5 V board, percent, degrees of a 270° track. */
const unitScales: Record<string, number> = {mv: 5000, v: 5, '%': 100, '°': 270, deg: 270};

/**
 * What full scale is, in the unit of the readings: as declared, or else found out from the readings. All analog
 * channels of a glove share one converter, so they share one scale.
 */
export class Scale {
	/** Declared by the user or the sheet; null if not. */
	readonly declared: number | null;
	/** True where readings are no ADC counts at all (volts, percent, degrees). */
	readonly foreign: boolean;
	/** In force now. */
	fullScale: number;
	/** True once declared or proven by readings that no smaller usual scale could hold. */
	sure: boolean;
	/** Lowest possible reading: 0, or −(fullScale + 1)/2 where signed readings have been seen. */
	railLow = 0;
	/** Readings above the declared scale so far. */
	aboveDeclared = 0;
	/** The highest reading so far. */
	highest = Number.NEGATIVE_INFINITY;
	private judged: readonly number[] = [];
	private judgedOf: readonly [number, number, number] = [Number.NaN, Number.NaN, Number.NaN];
	private aboveCount = 0;
	private aboveHighest = 0;
	private belowCount = 0;
	private seenFraction = false;

	constructor(declared: number | null, layout: Layout) {
		const byUnit = layout.unit === null ? undefined : unitScales[layout.unit.toLowerCase()];
		this.foreign = byUnit !== undefined;
		this.declared = declared;
		this.fullScale = byUnit ?? declared ?? 1023;
		this.sure = byUnit === undefined && declared !== null;
	}

	/** Whether firmware has scaled the readings: fractions of one, percent, degrees. */
	get isNormalised(): boolean {
		return this.fullScale === 1 || (this.foreign && (this.fullScale === unitScales['%'] || this.fullScale === unitScales.deg));
	}

	get railHigh(): number {
		return this.railLow + this.fullScale;
	}

	get middle(): number {
		return this.railLow + this.fullScale / 2;
	}

	/**
	 * Scales that the readings so far allow. One where it is declared or reached; else every usual one, the supply voltages
	 * in millivolts among them, that is not far above all readings. What must hold whatever the scale is asked of each.
	 */
	get plausible(): readonly number[] {
		// Asked for far more often than it changes.
		const {fullScale, highest, railLow} = this;
		const [ofFullScale, ofHighest, ofRailLow] = this.judgedOf;
		if (fullScale !== ofFullScale || highest !== ofHighest || railLow !== ofRailLow) {
			this.judged = this.judgePlausible();
			this.judgedOf = [fullScale, highest, railLow];
		}
		return this.judged;
	}

	private judgePlausible(): readonly number[] {
		if (this.declared !== null && this.fullScale === this.declared) return [this.fullScale];
		if (this.foreign)
			return [3300, 5000].includes(this.fullScale)
				? [3300, 5000].filter(scale => scale >= 0.99 * this.highest)
				: [this.fullScale];
		const top = this.highest - this.railLow;
		const fitting = plausibleScales.filter(scale => scale >= top && scale <= 5 * top);
		const reached = wordScales.find(scale => scale >= top && top >= 0.985 * scale);
		return reached !== undefined ? [reached] : fitting.length > 0 ? fitting : [this.fullScale];
	}

	/** The smallest scale the readings allow. */
	get smallest(): number {
		return Math.min(...this.plausible);
	}

	/** Takes note of one channel's block: its extremes, and its readings from `from` (included) to `to` (not included). */
	observe(low: number, high: number, readings: Float64Array, from: number, to: number): void {
		// Counted only where any are.
		const above = (limit: number): number => countAbove(readings, from, to, limit);
		const most = Math.max(3, 0.5 * (to - from));
		if (high > this.highest && (high <= this.railHigh || above(this.railHigh) >= most)) this.highest = high;
		if (!this.seenFraction && (!Number.isInteger(low) || !Number.isInteger(high))) this.seenFraction = true;
		if (low < this.railLow && ++this.belowCount >= readingsToDisprove) this.railLow = -(this.fullScale + 1) / 2;
		if (this.declared !== null && !this.foreign && high > this.declared) {
			// Several in one block: a damaged line or two show single ones.
			// Numbers run together are far above any converter's.
			const count = above(this.declared) - above(mostRatio * this.declared);
			if (count >= 3) this.aboveDeclared += count;
		}
		if (high > this.railHigh) {
			const count = above(this.railHigh);
			// Half of the block: a channel dwells where it is, damaged numbers come and go.
			if (count >= most) {
				this.aboveHighest = Math.max(this.aboveHighest, high);
				this.aboveCount += count;
			}
			if (this.aboveCount >= readingsToDisprove) this.promote();
		}
		// An 8-bit stream cannot exceed 255; a little more than that is a glove with 10 bits or more.
		if (!this.sure && !this.foreign && high > 300) this.sure = true;
	}

	/**
	 * Adopts a scale below 10 bit once the readings say so: fractions of one, or 8-bit counts. Two channels that end
	 * at 250 to 255 and never above are an 8-bit converter: on a 10-bit one both stopping there is chance. Where a stick
	 * rests says nothing: that it rests in the middle is what is to be judged.
	 */
	settleSmall(endsNear255: number): void {
		if (this.sure || this.foreign || this.railLow < 0) return;
		if (this.seenFraction && this.highest <= 1.0001 && this.highest > 0) this.adopt(1);
		else if (this.highest <= 255 && endsNear255 >= 2) this.adopt(255);
	}

	private promote(): void {
		const need = this.aboveHighest - this.railLow;
		// Between 12 bit and 5 V in millivolts the latter is far likelier than a 14-bit converter used to a third.
		const next = this.foreign
			? undefined
			: need > 4095 && need <= 5000
				? 5000
				: wordScales.find(scale => scale >= need);
		const signed = this.railLow < 0;
		this.fullScale = next ?? Math.max(need, this.fullScale * 2);
		if (signed) this.railLow = -(this.fullScale + 1) / 2;
		this.sure = true;
		this.aboveCount = 0;
		this.aboveHighest = 0;
	}

	private adopt(fullScale: number): void {
		this.fullScale = fullScale;
		this.sure = true;
	}
}

function countAbove(readings: Float64Array, from: number, to: number, limit: number): number {
	let count = 0;
	for (let i = from; i < to; i++) if (readings[i] > limit) count++;
	return count;
}
