import type {AnalogFeatures} from './analog-features.ts';
import {CovarianceWindow} from './covariance-window.ts';
import {FrameHistory} from './frame-history.ts';

/** Looking back far enough for three slow movements of the whole hand. */
const windowSeconds = 10;

/** Looking back just far enough to see what a channel does now. */
export const recentSeconds = 4;

/** A finger takes part in the hand's movement once it has travelled this share of full scale. */
const leastSpanShare = 0.08;

/** Slowest movement that counts, in spans per second: a full closing in four seconds. */
const leastSpansPerSecond = 0.25;

/** Fingers that a finger must be seen with to be said to follow the hand. */
const leastCompany = 2;

/** Speeds are taken over about 40 ms. */
const lagSeconds = 0.04;

/**
 * The fingers taken together: which way each moves relative to the others, how well it follows them, and when the
 * hand as a whole moves.
 */
export class Hand {
	/** Places of the fingers among the analog channels. */
	readonly fingers: readonly number[];
	readonly window: CovarianceWindow;
	readonly recent: CovarianceWindow;
	/** True once any finger has travelled there and back over a fifth of full scale. */
	everTravelled = false;
	/** How many fingers travelled in the window. */
	companions = 0;
	/** Per analog channel: +1 or −1 as the majority of fingers goes, 0 while undecided or no finger. */
	readonly sign: Int8Array;
	/** Per analog channel: correlation with the consensus of the other fingers over the window; NaN while they don't move. */
	readonly agreement: Float64Array;
	/** Last time the channel was seen to follow the others (correlation at least 0.6 over its own travel); NaN if never. */
	readonly followedAt: Float64Array;
	/** Mean position of the fingers (0…1 of each one's span, aligned), per frame, in step with the frame history. */
	readonly position = new Float64Array(FrameHistory.capacity);
	/** How many fingers the position is made from, per frame. */
	readonly members = new Uint8Array(FrameHistory.capacity);
	private readonly active: Int32Array;
	private activeCount = 0;

	constructor(fingers: readonly number[], channels: number) {
		this.fingers = fingers;
		this.window = new CovarianceWindow(channels);
		this.recent = new CovarianceWindow(channels);
		this.sign = new Int8Array(channels);
		this.agreement = new Float64Array(channels).fill(Number.NaN);
		this.followedAt = new Float64Array(channels).fill(Number.NaN);
		this.active = new Int32Array(fingers.length);
	}

	/**
	 * Whether a finger has travelled at least 45 % as far as the one that has travelled farthest: a thumb does half, a
	 * neighbour that only follows a bent finger at most 40 %.
	 */
	isMover(analog: AnalogFeatures, a: number): boolean {
		let longest = 0;
		for (const other of this.fingers) longest = Math.max(longest, analog.ends.span(other));
		return analog.ends.span(a) >= 0.45 * longest;
	}

	/** Takes in the newest block, after the analog features have closed it. */
	close(analog: AnalogFeatures, history: FrameHistory, from: number, to: number): void {
		this.chooseActive(analog);
		this.followFrames(analog, history, from, to);
		const newest = analog.blocks.count;
		const now = analog.blocks.end[analog.blocks.slot(newest - 1)];
		// Twice a second is enough: nothing here can turn faster than the hand.
		if (newest % 2 === 0) {
			if (newest % 4 === 0 || newest < 16)
				this.window.fill(analog.blocks, analog.blocks.firstSince(now - windowSeconds), newest);
			this.recent.fill(analog.blocks, analog.blocks.firstSince(now - recentSeconds), newest);
			this.align(analog);
			this.everTravelled ||= this.fingers.some(
				a => analog.trips.count[a] >= 2 && analog.trips.longestSince(a, 0) >= 0.2 * analog.scale.smallest,
			);
		}
	}

	private chooseActive(analog: AnalogFeatures): void {
		this.activeCount = 0;
		const least = leastSpanShare * analog.scale.fullScale;
		for (const a of this.fingers) if (analog.ends.span(a) >= least) this.active[this.activeCount++] = a;
	}

	private followFrames(analog: AnalogFeatures, history: FrameHistory, from: number, to: number): void {
		const {blocks, columns, ends, scale} = analog;
		const {values, width} = history;
		const mask = FrameHistory.capacity - 1;
		const slot = blocks.slot(blocks.count - 1);
		const seconds = blocks.end[slot] - blocks.start[slot];
		const lag = Math.max(1, Math.round((lagSeconds * (to - from)) / seconds));
		const lagTime = (lag * seconds) / (to - from);
		const base = slot * blocks.width;
		const rail = 0.005 * scale.fullScale;
		const lowRail = scale.railLow + rail;
		const highRail = scale.railHigh - rail;
		for (let a = 0; a < blocks.width; a++) {
			blocks.handFrames[base + a] = 0;
			blocks.railLow[base + a] = 0;
			blocks.railHigh[base + a] = 0;
		}
		for (let frame = from; frame < to; frame++) {
			const at = (frame & mask) * width;
			const before = (Math.max(history.oldest, frame - lag) & mask) * width;
			let sum = 0;
			let up = 0;
			let down = 0;
			for (let i = 0; i < this.activeCount; i++) {
				const a = this.active[i];
				const span = ends.high[a] - ends.low[a];
				const reading = values[at + columns[a]];
				const part = (reading - ends.low[a]) / span;
				const speed = (reading - values[before + columns[a]]) / (span * lagTime);
				if (this.sign[a] < 0) {
					sum += 1 - part;
					if (speed >= leastSpansPerSecond) down++;
					else if (speed <= -leastSpansPerSecond) up++;
				} else {
					sum += part;
					if (speed >= leastSpansPerSecond) up++;
					else if (speed <= -leastSpansPerSecond) down++;
				}
			}
			this.position[frame & mask] = this.activeCount > 0 ? sum / this.activeCount : Number.NaN;
			this.members[frame & mask] = this.activeCount;
			const together = Math.max(up, down);
			// Three of four, or two of three: the one under test may lie still at its rail.
			if (together >= 2 && together >= 0.7 * (this.activeCount - 1) && Math.min(up, down) <= 1) {
				for (let a = 0; a < blocks.width; a++) {
					blocks.handFrames[base + a]++;
					const reading = values[at + columns[a]];
					if (reading <= lowRail) blocks.railLow[base + a]++;
					else if (reading >= highRail) blocks.railHigh[base + a]++;
				}
			}
		}
	}

	/** Which way each finger goes relative to the majority, and how well it follows the consensus of the others. */
	private align(analog: AnalogFeatures): void {
		const {fingers} = this;
		const full = analog.scale.fullScale;
		const now = analog.blocks.end[analog.blocks.slot(analog.blocks.count - 1)];
		const lately = alignment(this.recent, fingers, leastSpanShare * full);
		if (lately !== undefined) {
			for (const a of fingers) {
				const toward = lately.toward[a];
				// One other alone may be its copy.
				const company = lately.moved - (this.recent.travel(a) >= leastSpanShare * full ? 1 : 0);
				if (company < leastCompany && fingers.length > 3) continue;
				if (Math.abs(toward) >= 0.6 && this.recent.travel(a) >= 0.1 * full) this.followedAt[a] = now;
			}
		}
		for (const a of fingers) this.agreement[a] = Number.NaN;
		const whole = alignment(this.window, fingers, leastSpanShare * full);
		this.companions = whole?.moved ?? 0;
		if (whole === undefined) return;
		for (const a of fingers) {
			const toward = whole.toward[a];
			if (Number.isNaN(toward)) continue;
			// Relative to the majority; with a tie nobody is right or wrong.
			this.agreement[a] = whole.majority === 0 ? Number.NaN : toward * whole.majority;
			if (whole.majority !== 0 && Math.abs(toward) >= 0.6) this.sign[a] = toward * whole.majority > 0 ? 1 : -1;
		}
	}
}

type Alignment = {
	/** How many fingers travelled. */
	readonly moved: number;
	/** +1 or −1: the way most fingers go relative to the reference; 0 for a tie. */
	readonly majority: number;
	/** Per channel: correlation of each finger with the consensus of the others, in the reference's direction; else NaN. */
	readonly toward: Float64Array;
};

/** Compares every finger with the consensus of the others over a window; undefined with fewer than two that travelled. */
function alignment(window: CovarianceWindow, fingers: readonly number[], leastTravel: number): Alignment | undefined {
	const moved = fingers.filter(a => window.travel(a) >= leastTravel);
	if (moved.length < 2) return undefined;
	// The finger that the others resemble most, whatever their direction, is the reference.
	let reference = moved[0];
	let best = -1;
	for (const a of moved) {
		let likeness = 0;
		for (const b of moved) if (b !== a) likeness += Math.abs(window.correlation(a, b));
		if (likeness > best) {
			best = likeness;
			reference = a;
		}
	}
	// Of each finger that moved: its part in the consensus, in its own deviations and in the reference's direction.
	const weights = new Float64Array(moved.length);
	let balance = 0;
	for (let i = 0; i < moved.length; i++) {
		const likeness = moved[i] === reference ? 1 : window.correlation(reference, moved[i]);
		weights[i] = (Math.sign(likeness) || 1) / window.deviation(moved[i]);
		// A finger that hardly resembles the reference has no vote.
		if (Math.abs(likeness) >= 0.5) balance += Math.sign(likeness);
	}
	const toward = new Float64Array(window.mean.length).fill(Number.NaN);
	for (const a of fingers) {
		let cross = 0;
		let self = 0;
		let others = 0;
		for (let i = 0; i < moved.length; i++) {
			if (moved[i] === a) continue;
			others++;
			cross += weights[i] * window.of(a, moved[i]);
			for (let j = 0; j < moved.length; j++) {
				if (moved[j] !== a) self += weights[i] * weights[j] * window.of(moved[i], moved[j]);
			}
		}
		const own = window.of(a, a);
		if (others > 0 && self > 0 && own > 0) toward[a] = cross / Math.sqrt(self * own);
	}
	return {moved: moved.length, majority: Math.sign(balance), toward};
}
