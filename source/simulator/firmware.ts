import {upperMedianOf} from '../math/nth-smallest.ts';
import type {FirmwareSpec} from './glove.ts';

/** Ends of one finger's range in counts: where it was calibrated, or what it learns once the whole hand has moved. */
export type Calibration = {readonly low: number; readonly high: number};

/** What the board's program does to one channel between converter and output. Keeps that channel's filter state. */
export class ChannelFirmware {
	readonly #spec: FirmwareSpec;
	readonly #fullScale: number;
	readonly #calibration: Calibration | undefined;
	#smoothed = Number.NaN;
	#sent = Number.NaN;
	readonly #window: number[] = [];
	readonly #glitched: boolean;
	#readings = 0;
	#lowest = Number.POSITIVE_INFINITY;
	#highest = Number.NEGATIVE_INFINITY;

	/**
	 * `fullScale`: of the converter. `calibration` is only used by `scaled` and `learns`; without it the channel passes
	 * as it is. `glitched`: it is this channel that has the `learns` firmware's false reading.
	 */
	constructor(spec: FirmwareSpec, fullScale: number, calibration: Calibration | undefined, glitched = false) {
		this.#spec = spec;
		this.#fullScale = fullScale;
		this.#calibration = calibration;
		this.#glitched = glitched;
	}

	/** The number to send for `counts`. */
	process(counts: number): number {
		const {kind, decimals, outputFullScale} = this.#spec;
		switch (kind) {
			case 'raw':
				return Math.round(counts);
			case 'averaged':
				return counts;
			case 'scaled':
				return this.#stretch(counts);
			case 'learns':
				return this.#calibration ? this.#learn(counts) : Math.round(counts);
			case 'filtered':
				return this.#filter(counts);
			default: {
				const scale = 10 ** decimals;
				return Math.round((counts / this.#fullScale) * outputFullScale * scale) / scale;
			}
		}
	}

	/** The number sent for `counts` that stay, once all is learned; keeps no state. */
	settled(counts: number): number {
		switch (this.#spec.kind) {
			case 'filtered':
				return counts;
			case 'learns':
				return this.#stretch(counts);
			default:
				return this.process(counts);
		}
	}

	/** Forgets filter and learned range: the board started again. */
	restart(): void {
		this.#smoothed = Number.NaN;
		this.#sent = Number.NaN;
		this.#window.length = 0;
		this.#readings = 0;
		this.#lowest = Number.POSITIVE_INFINITY;
		this.#highest = Number.NEGATIVE_INFINITY;
	}

	#stretch(counts: number): number {
		if (!this.#calibration) return Math.round(counts);
		const {low, high} = this.#calibration;
		const scaled = ((counts - low) / (high - low)) * this.#fullScale;
		return Math.round(Math.min(this.#fullScale, Math.max(0, scaled)));
	}

	/** Whole numbers throughout, as such programs have them; 0 while lowest and highest are one. */
	#learn(counts: number): number {
		const {filterStrength, glitch} = this.#spec;
		let read = counts;
		if (this.#glitched && this.#readings === glitch!.reading) read = glitch!.rail === 'low' ? 0 : this.#fullScale;
		this.#readings++;
		const whole = Math.round(filterStrength < 1 ? this.#smooth(read) : read);
		if (whole < this.#lowest) this.#lowest = whole;
		if (whole > this.#highest) this.#highest = whole;
		const range = this.#highest - this.#lowest;
		return range === 0 ? 0 : Math.floor(((whole - this.#lowest) * this.#fullScale) / range);
	}

	/** Exponential mean of the readings so far. */
	#smooth(counts: number): number {
		if (Number.isNaN(this.#smoothed)) this.#smoothed = counts;
		this.#smoothed += this.#spec.filterStrength * (counts - this.#smoothed);
		return this.#smoothed;
	}

	#filter(counts: number): number {
		const {filter, filterStrength, deadBandCounts} = this.#spec;
		if (filter === 'ema') {
			this.#smooth(counts);
		} else {
			this.#window.push(counts);
			if (this.#window.length > filterStrength) this.#window.shift();
			this.#smoothed = upperMedianOf(this.#window);
		}
		const moved = Math.abs(this.#smoothed - this.#sent);
		// At the rails the band would keep the value from ever arriving.
		const atRail = this.#smoothed < 0.5 || this.#smoothed > this.#fullScale - 0.5;
		if (Number.isNaN(this.#sent) || moved >= deadBandCounts || atRail) this.#sent = Math.round(this.#smoothed);
		return this.#sent;
	}
}
