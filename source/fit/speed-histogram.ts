/** Speeds are taken over this time: above what quantisation does, short against any movement. */
const lagSeconds = 0.04;
const capacity = 256;

/** Bins of equal width on a log scale, eight to an octave, from a thousandth of full scale per second upwards. */
const binsPerOctave = 8;
const slowest = 0.001;
const bins = binsPerOctave * 20;

/** How fast one channel moves, in full scales per second, as a histogram over frames. Constant time per reading. */
export class SpeedHistogram {
	private readonly counts = new Float64Array(bins);
	private readonly times = new Float64Array(capacity);
	private readonly readings = new Float64Array(capacity);
	private first = 0;
	private size = 0;

	/** Takes the next reading. `fullScale` in the unit of the readings. */
	push(t: number, reading: number, fullScale: number): void {
		if (this.size === capacity) this.drop();
		const place = (this.first + this.size) % capacity;
		this.times[place] = t;
		this.readings[place] = reading;
		this.size++;
		// The oldest reading that is at least the lag away, and no older one.
		while (this.size > 2 && t - this.times[(this.first + 1) % capacity] >= lagSeconds) this.drop();
		const lasted = t - this.times[this.first];
		if (lasted < lagSeconds / 2) return;
		const speed = Math.abs(reading - this.readings[this.first]) / lasted / fullScale;
		if (speed < slowest) return;
		this.counts[Math.min(bins - 1, Math.floor(binsPerOctave * Math.log2(speed / slowest)))]++;
	}

	/**
	 * The speed that `share` of the moving time stays below, full scales per second; moving means faster than `least`.
	 * Undefined where there was no such time.
	 */
	quantile(share: number, least: number): number | undefined {
		const from = Math.max(0, Math.ceil(binsPerOctave * Math.log2(least / slowest)));
		let total = 0;
		for (let bin = from; bin < bins; bin++) total += this.counts[bin];
		if (total === 0) return undefined;
		let seen = 0;
		for (let bin = from; bin < bins; bin++) {
			seen += this.counts[bin];
			if (seen >= share * total) return slowest * 2 ** ((bin + 0.5) / binsPerOctave);
		}

		return undefined;
	}

	private drop(): void {
		this.first = (this.first + 1) % capacity;
		this.size--;
	}
}
