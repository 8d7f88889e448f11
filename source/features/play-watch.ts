/** Movements kept per finger and direction. */
const kept = 12;

/**
 * Shares of the way at which a finger's times are compared with the others'. They lie evenly about the middle, so that
 * the mean lateness at the outer two, less the lateness in the middle, holds neither a late start nor another pace, nor a
 * delay (which is the same time at all three), nor a first-order lag (early as much shorter as late longer).
 */
const outer = [0.12, 0.88];
const middle = 0.5;

/** The passing times of each finger are kept at every fiftieth of the way. */
export const gridSteps = 50;

/** Play is sought in this range, as a share of the way that is left: w′ = w/(1 + w) of the play w. */
const leastPart = -0.25;
const mostPart = 0.65;
const partStep = 0.05;

/**
 * The lateness that is left early runs flat towards large plays, so that noise may keep it from ever crossing zero. Then
 * the play that leaves the least of it is taken, if that is at most this share of the movement's time.
 */
const mostLeft = 0.02;

/** From this play on (w′ = 0.29) that is so flat that the value is a guess: the other way's, if smaller, is nearer. */
const mostCertain = 0.4;

/** Play of one finger as a share of its span. */
export type Play = {
	readonly closing: number;
	readonly opening: number;
	/** Mean of both ways; the smaller one where the other is uncertain. */
	readonly play: number;
	/** Standard error of that mean. */
	readonly error: number;
	readonly movements: number;
};

/** How much play each finger shows in the movements of the whole hand. */
export class PlayWatch {
	/** Per finger and direction (closing first): play measured in each movement, share of the span. */
	private readonly count: Int32Array;
	private readonly measured: Float64Array;
	private readonly channels: number;
	/** Play of each finger, and the count of movements that it was judged from. */
	private readonly plays: (Play | undefined)[];
	private readonly playOf: Int32Array;

	constructor(channels: number) {
		this.channels = channels;
		this.count = new Int32Array(channels * 2);
		this.measured = new Float64Array(channels * 2 * kept);
		this.plays = new Array(channels).fill(undefined);
		this.playOf = new Int32Array(channels);
	}

	/**
	 * Takes one movement of the whole hand: `times[k]` are the passing times of finger `members[k]` at every fiftieth of its
	 * way, seconds; NaN where it did not pass.
	 */
	take(members: readonly number[], times: readonly Float64Array[], closing: boolean): void {
		for (let m = 0; m < members.length; m++) {
			const play = playOf(times, m);
			if (Number.isNaN(play)) continue;
			const row = closing ? members[m] : this.channels + members[m];
			this.measured[row * kept + (this.count[row] % kept)] = play;
			this.count[row]++;
		}
	}

	/**
	 * Play of one finger as a share of its span, each way: mean over the latest movements, and how sure that is (standard
	 * error of the mean of both). Undefined before three movements each way. A finger whose reading is no straight line
	 * of its bending shows that as play one way and as its opposite the other: only the mean of both counts.
	 */
	play(a: number): Play | undefined {
		// Asked for far more often than it changes.
		const measured = this.count[a] + this.count[this.channels + a];
		if (this.playOf[a] !== measured) {
			this.plays[a] = this.judge(a);
			this.playOf[a] = measured;
		}
		return this.plays[a];
	}

	private judge(a: number): Play | undefined {
		const up = this.spread(a);
		const down = this.spread(this.channels + a);
		if (up === undefined || down === undefined) return undefined;
		return {
			closing: up.mean,
			opening: down.mean,
			play: Math.max(up.mean, down.mean) > mostCertain ? Math.min(up.mean, down.mean) : (up.mean + down.mean) / 2,
			error: Math.sqrt(up.variance / up.count + down.variance / down.count) / 2,
			movements: up.count + down.count,
		};
	}

	/** Mean without the most extreme value on either side, and variance, of what is kept of a row. */
	private spread(row: number): {mean: number; variance: number; count: number} | undefined {
		const count = Math.min(this.count[row], kept);
		if (count < 3) return undefined;
		const values = this.measured.slice(row * kept, row * kept + count).sort();
		const inner = count >= 5 ? values.subarray(1, count - 1) : values;
		let sum = 0;
		for (const value of inner) sum += value;
		const mean = sum / inner.length;
		let squares = 0;
		for (const value of values) squares += (value - mean) ** 2;
		return {mean, variance: squares / (count - 1), count};
	}
}

/**
 * Play of member `m` in one movement, share of its span. A reading with play w has done (p − w′)/(1 − w′) of its way when
 * the finger has done p, w′ = w/(1 + w): it passes q when the finger passes q + w′(1 − q). The w′ is sought with which its
 * times are the others' mean times but for a constant. NaN where times are missing or no play explains them.
 */
function playOf(times: readonly Float64Array[], m: number): number {
	const others = new Float64Array(gridSteps + 1);
	for (let i = 0; i <= gridSteps; i++) {
		let sum = 0;
		for (let k = 0; k < times.length; k++) if (k !== m) sum += times[k][i];
		others[i] = sum / (times.length - 1);
	}
	const own = times[m];
	const late = (share: number, part: number): number => timeAt(own, share) - timeAt(others, share + part * (1 - share));
	const excess = (part: number): number => (late(outer[0], part) + late(outer[1], part)) / 2 - late(middle, part);
	const duration = timeAt(others, outer[1]) - timeAt(others, outer[0]);
	// Fingers that close one after another are no movement of the whole hand.
	if (!(Math.abs(late(middle, 0)) <= 0.6 * duration && excess(leastPart) > 0)) return Number.NaN;
	// The more play is allowed for, the less lateness is left early: the first share that leaves none is the play's.
	let before = excess(leastPart);
	let least = before;
	let best = leastPart;
	for (let part = leastPart + partStep; part <= mostPart; part += partStep) {
		const left = excess(part);
		if (left <= 0) return playFrom(part - (partStep * left) / (left - before));
		if (left < least) {
			least = left;
			best = part;
		}
		before = left;
	}
	return least <= mostLeft * duration ? playFrom(best) : Number.NaN;
}

function playFrom(part: number): number {
	return part / (1 - part);
}

/** Passing time at any share between 0 and 1. */
function timeAt(times: Float64Array, share: number): number {
	const place = Math.min(gridSteps - 1e-9, Math.max(0, share * gridSteps));
	const i = Math.floor(place);
	return times[i] + (place - i) * (times[i + 1] - times[i]);
}
