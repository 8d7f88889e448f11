import type {AnalogFeatures} from './analog-features.ts';
import {FrameHistory} from './frame-history.ts';
import type {Hand} from './hand.ts';

/** Movements kept per finger and direction. */
const kept = 12;

/** Shares of the others' way at which the finger's own way is compared: early in the movement, and late. */
const early = [0.15, 0.25];
const late = [0.75, 0.85];

/**
 * How far play holds a finger's reading back early in a movement more than late, per unit of play. A reading with
 * play w (share of its span) has done (p − w′)/(1 − w′) of its way when the others have done p, w′ = w/(1 + w): it is
 * behind by w·(1 − p). At the shares above that is 0.8 w early and 0.2 w late. A mere delay is the same early and late.
 */
const playGain = 0.6;

/** Whole movements of the hand from open to closed or back, and how each finger's reading kept up during them. */
export class Movements {
	/** Per finger and direction (closing first): lateness early less lateness late, share of the way. */
	readonly count: Int32Array;
	readonly lateness: Float64Array;
	/** Whole movements seen, both ways. */
	total = 0;
	lastAt = Number.NaN;
	/** End of the latest movement that was measured, stream seconds; NaN before. */
	measuredAt = Number.NaN;
	/** Frames in which the hand lay at the low and at the high side of its aligned position: it rests where it is open. */
	lowFrames = 0;
	highFrames = 0;
	private readonly channels: number;
	private side: -1 | 0 | 1 = 0;
	private leftAt = 0;
	private pending: {from: number; to: number; due: number; up: boolean} | null = null;

	constructor(channels: number) {
		this.channels = channels;
		this.count = new Int32Array(channels * 2);
		this.lateness = new Float64Array(channels * 2 * kept);
	}

	close(analog: AnalogFeatures, hand: Hand, history: FrameHistory, from: number, to: number): void {
		const mask = FrameHistory.capacity - 1;
		for (let frame = from; frame < to; frame++) {
			const {pending} = this;
			if (pending !== null && frame >= pending.due) {
				this.measure(analog, hand, history, pending.from, pending.due, pending.up);
				this.pending = null;
			}
			if (hand.members[frame & mask] < 2) {
				this.side = 0;
				continue;
			}
			const position = hand.position[frame & mask];
			if (position <= 0.25) {
				if (this.side === 1) this.arrived(history, frame, false);
				this.lowFrames++;
				this.side = -1;
				this.leftAt = frame;
			} else if (position >= 0.75) {
				if (this.side === -1) this.arrived(history, frame, true);
				this.highFrames++;
				this.side = 1;
				this.leftAt = frame;
			}
		}
	}

	/**
	 * Play of one finger as a share of its span, each way: the median over the movements, and the lower quartile, which
	 * chance differences between single movements do not lift. Undefined before three movements each way.
	 */
	play(a: number): {closing: number; opening: number; least: number; movements: number} | undefined {
		const up = this.sorted(a);
		const down = this.sorted(this.channels + a);
		if (up === undefined || down === undefined) return undefined;
		const median = (values: Float64Array): number =>
			(values[(values.length - 1) >> 1] + values[values.length >> 1]) / 2 / playGain;
		const quartile = (values: Float64Array): number => values[Math.floor((values.length - 1) / 4)] / playGain;
		return {
			closing: median(up),
			opening: median(down),
			least: Math.min(quartile(up), quartile(down)),
			movements: up.length + down.length,
		};
	}

	private sorted(row: number): Float64Array | undefined {
		const held = Math.min(this.count[row], kept);
		return held < 3 ? undefined : this.lateness.slice(row * kept, row * kept + held).sort();
	}

	private arrived(history: FrameHistory, frame: number, up: boolean): void {
		this.total++;
		this.lastAt = history.time(frame);
		const length = frame - this.leftAt;
		// From 25 % to 75 % a minimum-jerk movement takes 0.29 of its time: as much again on either side, and some rest.
		const margin = Math.max(3, Math.ceil(1.3 * length));
		const from = this.leftAt - margin;
		const seconds = history.time(frame) - history.time(Math.max(history.oldest, this.leftAt));
		if (length < 3 || from < history.oldest || seconds > 1.2) return;
		this.pending = {from, to: frame, due: frame + margin, up};
	}

	private measure(
		analog: AnalogFeatures,
		hand: Hand,
		history: FrameHistory,
		from: number,
		to: number,
		up: boolean,
	): void {
		const {columns, ends} = analog;
		const {values} = history;
		const members: number[] = [];
		const starts: number[] = [];
		const ways: number[] = [];
		for (const a of hand.fingers) {
			const start = values[history.base(from) + columns[a]];
			const way = values[history.base(to) + columns[a]] - start;
			if (Math.abs(way) < 0.4 * ends.span(a) || ends.span(a) < 0.1 * analog.scale.fullScale) continue;
			members.push(a);
			starts.push(start);
			ways.push(way);
		}
		if (members.length < 3) return;
		this.measuredAt = history.time(to);
		for (let m = 0; m < members.length; m++) {
			let sum = 0;
			for (const share of early) sum += this.behind(history, columns, members, starts, ways, m, from, to, share);
			for (const share of late) sum -= this.behind(history, columns, members, starts, ways, m, from, to, share);
			// Fingers that close one after another are no whole-hand movement for this purpose.
			const middle = this.behind(history, columns, members, starts, ways, m, from, to, 0.5);
			if (Number.isNaN(sum) || !(Math.abs(middle) <= 0.25)) continue;
			const row = up ? members[m] : this.channels + members[m];
			this.lateness[row * kept + (this.count[row] % kept)] = sum / 2;
			this.count[row]++;
		}
	}

	/** How far member `m` is behind when the mean of the others has done `share` of the way. */
	private behind(
		history: FrameHistory,
		columns: readonly number[],
		members: readonly number[],
		starts: readonly number[],
		ways: readonly number[],
		m: number,
		from: number,
		to: number,
		share: number,
	): number {
		let lastOthers = 0;
		let lastOwn = 0;
		for (let frame = from; frame <= to; frame++) {
			const base = history.base(frame);
			let others = 0;
			let own = 0;
			for (let k = 0; k < members.length; k++) {
				const done = (history.values[base + columns[members[k]]] - starts[k]) / ways[k];
				if (k === m) own = done;
				else others += done;
			}
			others /= members.length - 1;
			if (others >= share) {
				const part = others > lastOthers ? (share - lastOthers) / (others - lastOthers) : 0;
				return share - (lastOwn + part * (own - lastOwn));
			}
			lastOthers = others;
			lastOwn = own;
		}
		return Number.NaN;
	}
}
