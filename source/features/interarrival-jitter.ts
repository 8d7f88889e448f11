/**
 * Interarrival jitter of RFC 3550 §6.4.1: J += (|D| − J)/16, where D is the difference of two frames' spacing at the
 * receiver and at the sender. In the unit of the times given; a smoothed mean deviation, not a standard deviation.
 */
export class InterarrivalJitter {
	value = 0;
	private transit = Number.NaN;

	/** `arrival` and `sent` in the same unit, on any two clocks. */
	add(arrival: number, sent: number): void {
		const transit = arrival - sent;
		if (!Number.isNaN(this.transit)) this.addDifference(transit - this.transit);
		this.transit = transit;
	}

	/** For senders without a clock: D is the spacing less the nominal one. */
	addDifference(d: number): void {
		this.value += (Math.abs(d) - this.value) / 16;
	}

	/** The sender's clock started again: spacing across the break means nothing. */
	restart(): void {
		this.transit = Number.NaN;
	}
}
