import type {TickHistory} from './tick-history.ts';

/** Start bit, eight data bits, stop bit. */
const bitsPerByte = 10;

const windowSeconds = 5;

/** How full a serial line of known speed is, over the latest five seconds. */
export class LineLoad {
	constructor(
		private readonly ticks: TickHistory,
		private readonly baud: number,
	) {}

	/** Bytes a second that the line can carry. */
	get capacity(): number {
		return this.baud / bitsPerByte;
	}

	get bytesPerSecond(): number {
		return this.ticks.total(this.ticks.bytes, windowSeconds) / this.ticks.spanned(windowSeconds);
	}

	/** Share of the capacity, 0…1. */
	get share(): number {
		return this.bytesPerSecond / this.capacity;
	}

	/** The same of the emptiest of the five seconds. */
	get least(): number {
		let least = Number.POSITIVE_INFINITY;
		let before = 0;
		for (let seconds = 1; seconds <= windowSeconds; seconds++) {
			const bytes = this.ticks.total(this.ticks.bytes, seconds);
			least = Math.min(least, bytes - before);
			before = bytes;
		}
		return least / this.capacity;
	}

	/** When the five seconds began. */
	get from(): number {
		return this.ticks.startOf(windowSeconds);
	}
}
