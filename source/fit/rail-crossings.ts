import {medianOf} from '../math/nth-smallest.ts';

const kept = 32;

/** Marks on the way from one rail to the other: well off the first, past the middle, short of the second. */
const marks = [0.2, 0.6, 0.98] as const;

/**
 * How readings cross from rail to rail: whether they brake before the far one, as a finger does at its end, or run
 * into it. Of every crossing it keeps the time from 60 to 98 % over the time from 20 to 60 %.
 *
 * A minimum-jerk movement that is read whole gives 1.39; one whose last tenth is cut off 1.03, last quarter 0.85, last
 * half 0.73 (worked: 10u³ − 15u⁴ + 6u⁵ solved for those marks). Constant time per reading.
 */
export class RailCrossings {
	private readonly up = new Ratios();
	private readonly down = new Ratios();
	private lastT = Number.NaN;
	private last = Number.NaN;
	private readonly upTimes = new Float64Array(3).fill(Number.NaN);
	private readonly downTimes = new Float64Array(3).fill(Number.NaN);

	/** Takes the next reading as a share of the way between the rails, 0…1. */
	push(t: number, position: number): void {
		if (!Number.isNaN(this.last)) {
			this.follow(this.upTimes, this.up, this.last, position, t);
			this.follow(this.downTimes, this.down, 1 - this.last, 1 - position, t);
		}

		this.last = position;
		this.lastT = t;
	}

	/** Median ratio of the crossings towards the upper or the lower rail; undefined below four of them. */
	ratio(towards: 'low' | 'high'): number | undefined {
		return (towards === 'high' ? this.up : this.down).median;
	}

	private follow(times: Float64Array, ratios: Ratios, before: number, now: number, t: number): void {
		for (let mark = 0; mark < 3; mark++) {
			const at = marks[mark];
			// Falling back under the first mark begins anew.
			if (mark === 0 && now < at) times.fill(Number.NaN);
			if (before < at && now >= at && (mark === 0 || !Number.isNaN(times[mark - 1]))) {
				times[mark] = this.lastT + ((at - before) / (now - before)) * (t - this.lastT);
			}
		}

		if (Number.isNaN(times[2])) return;
		const first = times[1] - times[0];
		const second = times[2] - times[1];
		times.fill(Number.NaN);
		// Within one frame nothing is known of how it came.
		if (first > 0 && second > 0 && first + second >= 2 * (t - this.lastT)) ratios.note(second / first);
	}
}

class Ratios {
	private readonly values = new Float64Array(kept);
	private count = 0;

	note(ratio: number): void {
		this.values[this.count % kept] = ratio;
		this.count++;
	}

	get median(): number | undefined {
		const held = Math.min(this.count, kept);
		if (held < 4) return undefined;
		return medianOf(this.values, 0, held);
	}
}
