import {lead, type Run} from './run.ts';

/** Leaps kept per channel and direction. */
const kept = 16;

/** A leap is this much more than the readings' steps just before and just after it; two frames lost in a row give 3. */
const leapRatio = 2.2;

/**
 * Steps in the middle of a travel that are far larger than the ones around them and don't come back: a track with a
 * dead stretch, a cord that hangs and lets go. Levels tell whether it is always the same place.
 */
export class Leaps {
	/** Per channel: upward leaps, then downward ones. */
	readonly count: Int32Array;
	readonly times: Float64Array;
	readonly starts: Float64Array;
	readonly stops: Float64Array;

	constructor(private readonly channels: number) {
		this.count = new Int32Array(channels * 2);
		this.times = new Float64Array(channels * 2 * kept);
		this.starts = new Float64Array(channels * 2 * kept);
		this.stops = new Float64Array(channels * 2 * kept);
	}

	/** Takes a block's readings: the step before each, between the two before it, is looked at. */
	take(a: number, run: Run, least: number): void {
		const {readings, kept} = run;
		for (let k = 0; k < run.keptCount; k++) {
			const at = lead + kept[k];
			this.step(a, readings[at - 3], readings[at - 2], readings[at - 1], readings[at], run.time(kept[k]), least);
		}
	}

	/** Four readings in a row; the step from the second to the third is looked at, `t` is the fourth's time. */
	step(a: number, first: number, second: number, third: number, fourth: number, t: number, least: number): void {
		const leap = third - second;
		if (leap < least && leap > -least) return;
		const size = Math.abs(leap);
		if (size < leapRatio * Math.abs(second - first) || size < leapRatio * Math.abs(fourth - third)) return;
		const row = leap > 0 ? a : this.channels + a;
		const place = row * kept + (this.count[row] & (kept - 1));
		this.times[place] = t;
		this.starts[place] = second;
		this.stops[place] = third;
		this.count[row]++;
	}

	/** Share of a channel's leaps since `t` at which another channel leapt in the same frame: frames lost, not a track. */
	sharedSince(a: number, t: number): number {
		let leaps = 0;
		let shared = 0;
		for (const row of [a, this.channels + a]) {
			for (let number = this.count[row] - 1; number >= Math.max(0, this.count[row] - kept); number--) {
				const time = this.times[row * kept + (number & (kept - 1))];
				if (time < t) break;
				leaps++;
				if (this.othersAt(a, time)) shared++;
			}
		}
		return leaps === 0 ? 0 : shared / leaps;
	}

	private othersAt(a: number, time: number): boolean {
		for (let row = 0; row < 2 * this.channels; row++) {
			if (row % this.channels === a) continue;
			for (let number = this.count[row] - 1; number >= Math.max(0, this.count[row] - kept); number--) {
				if (this.times[row * kept + (number & (kept - 1))] === time) return true;
			}
		}
		return false;
	}

	/** Leaps one way since `t`: how many, and median and scatter of the level they start from, counts. */
	since(a: number, up: boolean, t: number): {count: number; start: number; stop: number; scatter: number} {
		const row = up ? a : this.channels + a;
		const starts: number[] = [];
		const stops: number[] = [];
		for (let number = this.count[row] - 1; number >= Math.max(0, this.count[row] - kept); number--) {
			const place = row * kept + (number & (kept - 1));
			if (this.times[place] < t) break;
			starts.push(this.starts[place]);
			stops.push(this.stops[place]);
		}
		if (starts.length === 0) return {count: 0, start: 0, stop: 0, scatter: 0};
		starts.sort((one, other) => one - other);
		stops.sort((one, other) => one - other);
		const middle = starts.length >> 1;
		const off = starts.map(start => Math.abs(start - starts[middle])).sort((one, other) => one - other);
		return {
			count: starts.length,
			start: starts[middle],
			stop: stops[middle],
			scatter: off[Math.floor(0.75 * (off.length - 1))],
		};
	}
}
