import type {FirmwareSpec} from './glove.ts';

/** Where one finger was calibrated, in counts: open hand and fist. */
export type Calibration = {readonly low: number; readonly high: number};

/** What the board's program does to one channel between converter and output. Keeps that channel's filter state. */
export class ChannelFirmware {
	readonly #spec: FirmwareSpec;
	readonly #fullScale: number;
	readonly #calibration: Calibration | undefined;
	#smoothed = Number.NaN;
	#sent = Number.NaN;
	readonly #window: number[] = [];

	/** `fullScale`: of the converter. `calibration` is only used by `scaled`; without it the channel passes as it is. */
	constructor(spec: FirmwareSpec, fullScale: number, calibration: Calibration | undefined) {
		this.#spec = spec;
		this.#fullScale = fullScale;
		this.#calibration = calibration;
	}

	/** The number to send for `counts`. */
	process(counts: number): number {
		const {kind, decimals, outputFullScale} = this.#spec;
		switch (kind) {
			case 'raw':
				return Math.round(counts);
			case 'averaged':
				return counts;
			case 'scaled': {
				if (!this.#calibration) return Math.round(counts);
				const {low, high} = this.#calibration;
				const scaled = ((counts - low) / (high - low)) * this.#fullScale;
				return Math.round(Math.min(this.#fullScale, Math.max(0, scaled)));
			}
			case 'filtered':
				return this.#filter(counts);
			default: {
				const scale = 10 ** decimals;
				return Math.round((counts / this.#fullScale) * outputFullScale * scale) / scale;
			}
		}
	}

	/** Forgets the filter's state: the board started again. */
	restart(): void {
		this.#smoothed = Number.NaN;
		this.#sent = Number.NaN;
		this.#window.length = 0;
	}

	#filter(counts: number): number {
		const {filter, filterStrength, deadBandCounts} = this.#spec;
		if (filter === 'ema') {
			if (Number.isNaN(this.#smoothed)) this.#smoothed = counts;
			this.#smoothed += filterStrength * (counts - this.#smoothed);
		} else {
			this.#window.push(counts);
			if (this.#window.length > filterStrength) this.#window.shift();
			const sorted = [...this.#window].sort((a, b) => a - b);
			this.#smoothed = sorted[sorted.length >> 1];
		}
		const moved = Math.abs(this.#smoothed - this.#sent);
		// At the rails the band would keep the value from ever arriving.
		const atRail = this.#smoothed < 0.5 || this.#smoothed > this.#fullScale - 0.5;
		if (Number.isNaN(this.#sent) || moved >= deadBandCounts || atRail) this.#sent = Math.round(this.#smoothed);
		return this.#sent;
	}
}
