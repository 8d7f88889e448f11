/**
 * Share of the movement's top speed with which a reading must still be coming in when it stops dead. A finger brakes:
 * a minimum-jerk movement has 16·u²(1−u)² of its top speed at the share u of its time, 0.4 at u = 0.81, which is
 * the last 4 % of the way. A reading that is stopped earlier by a rail or an end of travel comes in faster.
 */
const sharpShare = 0.4;

/** How readings arrive at the two ends of a channel's range: braked like a finger, or stopped dead. */
export class Ends {
	/** Usable ends in counts: extremes that lasted a slice, so that lone glitches don't count. */
	readonly low: Float64Array;
	readonly high: Float64Array;
	/** Arrivals at the end after a way of at least `way`, and how many of them were stopped dead; [low…, high…]. */
	readonly arrivals: Int32Array;
	readonly sharp: Int32Array;
	private readonly channels: number;
	private readonly inside: Uint8Array;
	private readonly farthest: Float64Array;
	private readonly topSpeed: Float64Array;

	constructor(channels: number) {
		this.channels = channels;
		this.low = new Float64Array(channels).fill(Number.NaN);
		this.high = new Float64Array(channels).fill(Number.NaN);
		this.arrivals = new Int32Array(channels * 2);
		this.sharp = new Int32Array(channels * 2);
		this.inside = new Uint8Array(channels * 2);
		this.farthest = new Float64Array(channels * 2);
		this.topSpeed = new Float64Array(channels * 2);
	}

	/** Range seen without lone glitches, counts; 0 before anything was seen. */
	span(a: number): number {
		const span = this.high[a] - this.low[a];
		return Math.max(span, 0);
	}

	/** Widens the range by one slice's extremes; an end that moves by more than `band` begins its arrivals anew. */
	widen(a: number, sliceLow: number, sliceHigh: number, band: number): void {
		if (Number.isNaN(this.low[a])) {
			this.low[a] = sliceHigh;
			this.high[a] = sliceLow;
			return;
		}
		if (sliceHigh < this.low[a]) {
			if (sliceHigh < this.low[a] - band) this.forget(a);
			this.low[a] = sliceHigh;
		}
		if (sliceLow > this.high[a]) {
			if (sliceLow > this.high[a] + band) this.forget(this.channels + a);
			this.high[a] = sliceLow;
		}
	}

	/**
	 * Takes a reading with its speed (counts per lag, absolute) and the speed a lag before it. `band` is what counts as
	 * being at the end; `way` how far a reading must have been for an arrival to count.
	 */
	step(a: number, reading: number, speed: number, speedBefore: number, band: number, way: number): void {
		this.side(a, reading - this.low[a], speed, speedBefore, band, way);
		this.side(this.channels + a, this.high[a] - reading, speed, speedBefore, band, way);
	}

	private side(i: number, distance: number, speed: number, before: number, band: number, way: number): void {
		if (distance > this.farthest[i]) this.farthest[i] = distance;
		if (speed > this.topSpeed[i]) this.topSpeed[i] = speed;
		if (distance <= band) {
			if (this.inside[i] === 0) {
				this.inside[i] = 1;
				if (this.farthest[i] >= way) {
					this.arrivals[i]++;
					if (Math.max(before, speed) >= sharpShare * this.topSpeed[i]) this.sharp[i]++;
				}
			}
			this.farthest[i] = 0;
			this.topSpeed[i] = 0;
		} else if (distance > 2 * band) this.inside[i] = 0;
	}

	/** Share of arrivals at the high end that were stopped dead; 0 with fewer than `least` arrivals. */
	sharpHigh(a: number, least: number): number {
		return this.share(this.channels + a, least);
	}

	sharpLow(a: number, least: number): number {
		return this.share(a, least);
	}

	reset(a: number): void {
		this.low[a] = Number.NaN;
		this.high[a] = Number.NaN;
		this.forget(a);
		this.forget(this.channels + a);
	}

	private share(i: number, least: number): number {
		return this.arrivals[i] < least ? 0 : this.sharp[i] / this.arrivals[i];
	}

	private forget(i: number): void {
		this.arrivals[i] = 0;
		this.sharp[i] = 0;
	}
}
