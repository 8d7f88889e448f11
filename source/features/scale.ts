import type {Layout} from '../framing/layout.ts';
import type {ChannelRows} from './channel-rows.ts';
import {lead, type Run} from './run.ts';
import type {StateBlock} from './state-block.ts';

/** Full scales that converters and firmware use: 10, 12, 14 and 16 bit. */
const wordScales = [1023, 4095, 16_383, 65_535];

/** The end of 10 bit, and of what firmware limits to it. */
const tenBit = 1023;

/** The same with the supplies of the usual boards in millivolts, and 8 bit. */
const plausibleScales = [255, 1023, 3300, 4095, 5000, 16_383, 65_535];

/** Taken for granted where nothing is declared: the converter of the usual 8-bit boards (check-values A1). */
const usualScale = tenBit;

/** Fewest readings of a block that say something: one or two may be damaged. */
const leastOfBlock = 3;

/** Fewest readings above a scale that disprove it: one or two may be digits run together on the line. */
const readingsToDisprove = 4;

/** 16 bit taken for 10 is 64 times as much. */
const mostRatio = 65;

/** Scales of readings that carry a unit: millivolts and volts of a 5 V board, percent, degrees of a 270° track. */
const unitScales: Record<string, number> = {mv: 5000, v: 5, '%': 100, '°': 270, deg: 270};

/** A stick that rests this far above 0 (share of full scale) is no signed one, whose middle is 0. */
const unsignedRest = 0.1;

/** Numbers of `facts`. */
const fullScaleAt = 0;
const railLowAt = 1;
const highestAt = 2;
const aboveHighestAt = 3;
const axisLowAt = 4;

/** The facts that tell which scales are plausible. */
const toldBy = [fullScaleAt, railLowAt, highestAt] as const;

/** Numbers of `tally`. */
const sureAt = 0;
const aboveDeclaredAt = 1;
const aboveAt = 2;
const belowAt = 3;
const fractionAt = 4;
const axisBelowAt = 5;

/**
 * What full scale is, in the unit of the readings: as declared, or else found out from the readings. All analog
 * channels of a glove share one converter, so they share one scale. It outlasts epochs.
 */
export class Scale {
	/** Declared by the user or the sheet; null if not. */
	readonly declared: number | null;
	/** True where readings are no ADC counts at all (volts, percent, degrees). */
	readonly foreign: boolean;
	/** Lowest and highest quarter-second mean of each channel so far; NaN before any. */
	readonly lowestMean: Float64Array;
	readonly highestMean: Float64Array;
	/** Frames of each channel so far, those at exactly full scale (or at 1023 where nothing was above) and at exactly 0, and the most of the latter in a row. */
	readonly frames: Float64Array;
	readonly atTop: Float64Array;
	readonly atZero: Float64Array;
	readonly zerosInRow: Float64Array;
	private readonly zeros: Float64Array;
	/** Which of the facts each channel's lowest possible reading is. */
	private readonly lowFact: Uint8Array;
	private readonly facts: Float64Array;
	/** The plausible scales as last worked out, and the facts that they were worked out by. */
	private readonly told = {by: new Float64Array(toldBy.length), scales: [] as readonly number[]};
	private readonly tally: Int32Array;

	/** `axes`: places of the stick's axes among the `channels` analog ones; empty without a stick. */
	constructor(
		declared: number | null,
		layout: Layout,
		channels: number,
		private readonly axes: readonly number[],
		state: StateBlock,
	) {
		const byUnit = layout.unit === null ? undefined : unitScales[layout.unit.toLowerCase()];
		this.foreign = byUnit !== undefined;
		this.declared = declared;
		this.lowestMean = state.floats(channels, Number.NaN);
		this.highestMean = state.floats(channels, Number.NaN);
		this.frames = state.floats(channels);
		this.atTop = state.floats(channels);
		this.atZero = state.floats(channels);
		this.zerosInRow = state.floats(channels);
		this.zeros = state.floats(channels);
		this.lowFact = Uint8Array.from({length: channels}, (_, a) => (axes.includes(a) ? axisLowAt : railLowAt));
		this.facts = state.floats(5);
		this.tally = state.ints(6);
		this.facts[fullScaleAt] = byUnit ?? declared ?? usualScale;
		this.facts[highestAt] = Number.NEGATIVE_INFINITY;
		this.tally[sureAt] = byUnit === undefined && declared !== null ? 1 : 0;
	}

	/** In force now. */
	get fullScale(): number {
		return this.facts[fullScaleAt];
	}

	/** True once declared or proven by readings that no smaller usual scale could hold. */
	get sure(): boolean {
		return this.tally[sureAt] === 1;
	}

	/** Lowest possible reading of a finger: 0, or −(fullScale + 1)/2 where signed readings have been seen. */
	get railLow(): number {
		return this.facts[railLowAt];
	}

	/** Readings above the declared scale so far. */
	get aboveDeclared(): number {
		return this.tally[aboveDeclaredAt];
	}

	/** The highest reading so far. */
	get highest(): number {
		return this.facts[highestAt];
	}

	/** Whether all readings were whole numbers so far. */
	get isWhole(): boolean {
		return this.tally[fractionAt] === 0;
	}

	/** What was declared, or taken for granted where nothing was. */
	get assumed(): number {
		return this.declared ?? usualScale;
	}

	/** The full scale of a converter two bits longer, or shorter; undefined beyond those that are made. */
	longer(than: number): number | undefined {
		return wordScales.find(scale => scale > than);
	}

	shorter(than: number): number | undefined {
		return wordScales.findLast(scale => scale < than);
	}

	/** Whether firmware has scaled the readings: fractions of one, percent, degrees. */
	get isNormalised(): boolean {
		return (
			this.fullScale === 1 ||
			(this.foreign && (this.fullScale === unitScales['%'] || this.fullScale === unitScales.deg))
		);
	}

	get railHigh(): number {
		return this.railLow + this.fullScale;
	}

	/**
	 * Lowest possible reading of the channel at analog place `a`: firmware often sends the stick less its middle, beside
	 * fingers as the converter gives them.
	 */
	lowOf(a: number): number {
		return this.facts[this.lowFact[a] ?? railLowAt];
	}

	/** Lowest possible reading of any channel. */
	get lowestPossible(): number {
		return Math.min(this.facts[railLowAt], this.facts[axisLowAt]);
	}

	highOf(a: number): number {
		return this.lowOf(a) + this.fullScale;
	}

	middleOf(a: number): number {
		return this.lowOf(a) + this.fullScale / 2;
	}

	/**
	 * Scales that the readings so far allow. One where it is declared or reached; else every usual one, the supply voltages
	 * in millivolts among them, that is not far above all readings. What must hold whatever the scale is asked of each.
	 */
	get plausible(): readonly number[] {
		const {facts, told} = this;
		// Asked four times a second; the declared scale and the unit stay.
		if (told.scales.length === 0 || toldBy.some((fact, i) => told.by[i] !== facts[fact])) {
			toldBy.forEach((fact, i) => {
				told.by[i] = facts[fact];
			});
			told.scales = this.scalesThatFit();
		}
		return told.scales;
	}

	private scalesThatFit(): readonly number[] {
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

	/** Takes note of a block of channel `a`, whose row has been written but not closed. */
	observe(a: number, run: Run, rows: ChannelRows): void {
		const {facts, tally} = this;
		const {low, high, readings} = run;
		const from = lead;
		const to = lead + run.count;
		const railLow = this.lowOf(a);
		const railHigh = railLow + this.fullScale;
		this.observeChannel(a, run, rows.mean[rows.at(rows.count, a)]);
		// Half of the block: a channel dwells where it is, damaged numbers come and go.
		const most = Math.max(leastOfBlock, 0.5 * (to - from));
		const above = high > railHigh ? countAbove(readings, from, to, railHigh) : 0;
		if (high > facts[highestAt] && (high <= railHigh || above >= most)) facts[highestAt] = high;
		if (tally[fractionAt] === 0 && !(Number.isInteger(low) && Number.isInteger(high))) tally[fractionAt] = 1;
		if (low < railLow) this.takeBelow(a);
		if (this.declared !== null && !this.foreign && high > this.declared) {
			// Several in one block: a damaged line or two show single ones. Numbers run together are far above any converter's.
			const count =
				countAbove(readings, from, to, this.declared) - countAbove(readings, from, to, mostRatio * this.declared);
			if (count >= leastOfBlock) tally[aboveDeclaredAt] += count;
		}
		if (above > 0) {
			if (above >= most) {
				facts[aboveHighestAt] = Math.max(facts[aboveHighestAt], high - railLow);
				tally[aboveAt] += above;
			}
			if (tally[aboveAt] >= readingsToDisprove) this.promote();
		}
		// An 8-bit stream cannot exceed 255; a little more than that is a glove with 10 bits or more.
		if (!this.foreign && high > 300) tally[sureAt] = 1;
	}

	/**
	 * Adopts a scale below 10 bit once the readings say so: fractions of one, or 8-bit counts. Two channels that end
	 * at 250 to 255 and never above are an 8-bit converter: on a 10-bit one both stopping there is chance. Where a stick
	 * rests says nothing: that it rests in the middle is what is to be judged.
	 */
	settleSmall(endsNear255: number): void {
		if (this.sure || this.foreign || this.railLow < 0) return;
		if (!this.isWhole && this.highest <= 1.0001 && this.highest > 0) this.adopt(1);
		else if (this.highest <= 255 && endsNear255 >= 2) this.adopt(255);
	}

	private observeChannel(a: number, {low, high, readings, count}: Run, mean: number): void {
		const from = lead;
		const to = lead + count;
		if (!(mean >= this.lowestMean[a])) this.lowestMean[a] = mean;
		if (!(mean <= this.highestMean[a])) this.highestMean[a] = mean;
		this.frames[a] += to - from;
		// 12 bit limited to 10 by the firmware ends at 1023 whatever is declared, until a reading above shows otherwise.
		if (high === this.fullScale || (high === tenBit && !(this.highest > tenBit)))
			this.atTop[a] += countEqual(readings, from, to, high);
		if (low > 0 || high < 0) {
			this.zeros[a] = 0;
			return;
		}
		for (let i = from; i < to; i++) {
			this.zeros[a] = readings[i] === 0 ? this.zeros[a] + 1 : 0;
			if (this.zeros[a] === 0) continue;
			this.atZero[a]++;
			if (this.zeros[a] > this.zerosInRow[a]) this.zerosInRow[a] = this.zeros[a];
		}
	}

	/** Readings below 0 are signed ones: those of the stick alone, or of all channels. */
	private takeBelow(a: number): void {
		const {facts, tally} = this;
		const isAxis = this.axes.includes(a);
		const signed = -(this.fullScale + 1) / 2;
		if (++tally[isAxis ? axisBelowAt : belowAt] < readingsToDisprove) return;
		if (isAxis) facts[axisLowAt] = signed;
		else if (!this.isStickUnsigned) {
			facts[railLowAt] = signed;
			facts[axisLowAt] = signed;
		}
	}

	/** Both axes have always been well above 0: signed numbers on other channels are the firmware's doing. */
	private get isStickUnsigned(): boolean {
		return (
			this.axes.length === 2 &&
			this.axes.every(axis => this.lowestMean[axis] > 0) &&
			this.axes.every(axis => this.highestMean[axis] > unsignedRest * this.fullScale)
		);
	}

	private promote(): void {
		const {facts, tally} = this;
		const need = facts[aboveHighestAt];
		// Between 12 bit and 5 V in millivolts the latter is far likelier than a 14-bit converter used to a third.
		const next = this.foreign
			? undefined
			: need > 4095 && need <= 5000
				? 5000
				: wordScales.find(scale => scale >= need);
		this.adopt(next ?? Math.max(need, this.fullScale * 2));
		tally[aboveAt] = 0;
		facts[aboveHighestAt] = 0;
	}

	private adopt(fullScale: number): void {
		this.facts[fullScaleAt] = fullScale;
		this.tally[sureAt] = 1;
		for (const low of [railLowAt, axisLowAt]) if (this.facts[low] < 0) this.facts[low] = -(fullScale + 1) / 2;
		// What lay at the end of a scale that is none lay somewhere.
		this.atTop.fill(0);
	}
}

function countAbove(readings: Float64Array, from: number, to: number, limit: number): number {
	let count = 0;
	for (let i = from; i < to; i++) if (readings[i] > limit) count++;
	return count;
}

function countEqual(readings: Float64Array, from: number, to: number, value: number): number {
	let count = 0;
	for (let i = from; i < to; i++) if (readings[i] === value) count++;
	return count;
}
