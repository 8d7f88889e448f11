/** A clock that falls back to less than this has started again. */
const nearZeroSeconds = 10;

/** Follows the board's own clock: unwraps 16- and 32-bit counters, and tells when it began anew. */
export class ClockWatch {
	/** The board's time in seconds, unwrapped. */
	seconds = 0;
	private last = Number.NaN;
	private offset = 0;

	constructor(private readonly unitSeconds: number) {}

	/** Takes the next value; answers `restart` when the clock fell back to near zero. */
	take(value: number): 'runs' | 'restart' {
		if (!Number.isFinite(value)) return 'runs';
		let answer: 'runs' | 'restart' = 'runs';
		if (value < this.last) {
			const wrap = [2 ** 16, 2 ** 32].find(
				modulus => this.last < modulus && this.last > 0.95 * modulus && value < 0.05 * modulus,
			);
			if (wrap !== undefined) this.offset += wrap;
			else if (value * this.unitSeconds < nearZeroSeconds && value < this.last / 2) {
				answer = 'restart';
				this.offset += this.last;
			} else return 'runs'; // one damaged number
		}
		this.last = value;
		this.seconds = (this.offset + value) * this.unitSeconds;
		return answer;
	}
}
