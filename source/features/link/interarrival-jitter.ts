import {StateBlock} from '../state-block.ts';

/**
 * Interarrival jitter of RFC 3550 §6.4.1: J += (|D| − J)/16, where D is the difference of two frames' spacing at the
 * receiver and at the sender. In the unit of the times given; a smoothed mean deviation, not a standard deviation.
 */
export class InterarrivalJitter {
	/** J now, alone in its array. */
	readonly smoothed: Float64Array;
	private readonly transit: Float64Array;

	constructor(state = new StateBlock()) {
		this.smoothed = state.floats(1);
		this.transit = state.floats(1, Number.NaN);
	}

	/** J now. */
	get value(): number {
		return this.smoothed[0];
	}

	/** `arrival` and `sent` in the same unit, on any two clocks. */
	add(arrival: number, sent: number): void {
		const transit = arrival - sent;
		if (!Number.isNaN(this.transit[0])) this.addDifference(transit - this.transit[0]);
		this.transit[0] = transit;
	}

	/** For senders without a clock: D is the spacing less the nominal one. */
	addDifference(d: number): void {
		this.smoothed[0] += (Math.abs(d) - this.smoothed[0]) / 16;
	}

	/** The sender's clock started again: spacing across the break means nothing. */
	restart(): void {
		this.transit[0] = Number.NaN;
	}
}
