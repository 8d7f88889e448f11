/** A clock that falls back to less than this has started again. */
const nearZeroSeconds = 10;

/** After a fall the clock runs on from there: the next value is at most this far on. */
const confirmSeconds = 1;

/** Follows the board's own clock: unwraps 16- and 32-bit counters, and tells when it began anew. */
export class ClockWatch {
	/** The board's time in seconds, unwrapped. */
	seconds = 0;
	private last = Number.NaN;
	private odd = Number.NaN;
	private offset = 0;

	constructor(private readonly unitSeconds: number) {}

	/**
	 * Takes the next value. `restart`: the clock fell back to near zero one frame ago and runs on from there. `odd`: the
	 * value does not follow, `seconds` is left as it was; the next one tells.
	 */
	take(value: number): 'runs' | 'odd' | 'restart' {
		if (!Number.isFinite(value)) return 'odd';
		if (!Number.isNaN(this.odd)) {
			const on = (value - this.odd) * this.unitSeconds;
			const restarted = on > 0 && on <= confirmSeconds && this.odd * this.unitSeconds < nearZeroSeconds;
			this.odd = Number.NaN;
			if (restarted) {
				this.offset += this.last;
				this.set(value);
				return 'restart';
			}
		}
		if (value < this.last) {
			const wrap = [2 ** 16, 2 ** 32].find(
				modulus => this.last < modulus && this.last > 0.95 * modulus && value < 0.05 * modulus,
			);
			if (wrap === undefined) {
				this.odd = value;
				return 'odd';
			}
			this.offset += wrap;
		}
		this.set(value);
		return 'runs';
	}

	private set(value: number): void {
		this.last = value;
		this.seconds = (this.offset + value) * this.unitSeconds;
	}
}
