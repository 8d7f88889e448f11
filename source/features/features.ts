import type {Channel, Layout} from '../framing/layout.ts';
import {AnalogFeatures} from './analog-features.ts';
import {ButtonFeatures} from './button-features.ts';
import {ChannelRows} from './channel-rows.ts';
import {ChannelWatches} from './channel-watches.ts';
import {type DeclaredFingers, DeclaredTravel} from './declared-travel.ts';
import {FrameHistory, frameMask} from './frame-history.ts';
import {Hand} from './hand.ts';
import type {LinkFeatures} from './link-features.ts';
import {Proof, unprovenWay} from './proof.ts';
import {Repeats} from './repeats.ts';
import {Scale} from './scale.ts';
import {StateBlock} from './state-block.ts';
import {StickFeatures} from './stick-features.ts';

/** Converters give 24 bits at most (the sheet's limit). Squares of far larger numbers would drown all others in rounding. */
const mostCounts = 2 ** 26;

/** A reading this many full scales up is none: even 16-bit readings declared as 12-bit stay below it. */
const impossibleScales = 20;

/** Something that follows the channels from block to block, all of its state in the block of what is learned. */
export type Watch = {
	/** Takes in the newest closed block, after rows, trips, hand and proof. */
	close(features: Features): void;
	/** Begins a new epoch of one analog channel: nothing learned of it stays. */
	forget(a: number): void;
};

/** Everything measured from the frames of one layout, and from the link; what the checks look at. */
export class Features extends ChannelWatches {
	readonly layout: Layout;
	readonly link: LinkFeatures;
	readonly history: FrameHistory;
	readonly scale: Scale;
	readonly analog: AnalogFeatures;
	/** One per hand in the stream, in order of its first finger; none without fingers. */
	readonly hands: readonly Hand[];
	readonly proof: Proof;
	readonly repeats: Repeats;
	/** What a sheet says of each finger's travel. */
	readonly declared: DeclaredTravel;
	readonly stick: StickFeatures | null;
	readonly buttons: readonly ButtonFeatures[];
	/** Stream time of the evaluation under way, seconds. */
	now = 0;
	/** When the epoch began, seconds; its first frame's number. */
	epochFrom = 0;
	epochFrame = 0;
	/** Place among the analog channels, or among the buttons, of each frame column; −1 for the others. */
	readonly placeOf: Int32Array;
	/** Place of each analog channel's hand in `hands`; −1 for a stick axis. */
	private readonly handOf: Int32Array;
	/** What outlasts an epoch: the scale. */
	private readonly lasting = new StateBlock();
	private readonly blank: ReturnType<StateBlock['copy']>;
	private readonly watches: readonly Watch[];
	private readonly counterColumn: number;
	private readonly clockColumn: number;
	/** Full scale at the last block: what was learned by another one counts no more. */
	private scaleBefore = 0;
	/** The recent rate of frames as last worked out, and the time and number of blocks it was worked out for. */
	private rate: number | undefined;
	private rateAt = Number.NaN;
	private rateOf = -1;
	private blockFrom = 0;
	private blockStart = Number.NaN;

	constructor(layout: Layout, link: LinkFeatures, declaredFullScale: number | null, fingers: DeclaredFingers = {}) {
		const {channels} = layout;
		const analog = columnsOf(layout, channel => channel.role === 'finger' || channel.role === 'stick');
		super(analog.length);
		this.layout = layout;
		this.link = link;
		const {learned} = this;
		this.history = new FrameHistory(channels.length);
		const axis = (name: string): number => analog.findIndex(column => channels[column].name === name);
		const x = axis('stick-x');
		const y = axis('stick-y');
		const axes = x >= 0 && y >= 0 ? [x, y] : [];
		this.scale = new Scale(declaredFullScale, layout, analog.length, axes, this.lasting);
		this.analog = new AnalogFeatures(
			analog,
			this.scale,
			layout.framing === 'text' || layout.framing === 'json',
			learned,
		);
		const {trips, spans, noise} = this.analog;
		this.handOf = new Int32Array(analog.length).fill(-1);
		this.hands = fingersByHand(analog, channels).map(
			fingers => new Hand(fingers, analog.length, trips, spans, learned),
		);
		this.hands.forEach(({fingers}, h) => {
			for (const a of fingers) this.handOf[a] = h;
		});
		this.proof = new Proof(analog.length, trips, spans, noise, learned);
		this.declared = new DeclaredTravel(
			analog.map(column => channels[column].name),
			fingers,
		);
		this.stick = axes.length > 0 ? new StickFeatures(x, y, this.scale, learned) : null;
		this.buttons = channels
			.filter(({role}) => role === 'button')
			.map(({index, isGuess}) => new ButtonFeatures(index, isGuess !== true, learned));
		this.watches = this.stick === null ? this.inOrder : [...this.inOrder, this.stick];
		this.repeats = new Repeats(
			columnsOf(layout, ({role}) => role !== 'counter' && role !== 'clock'),
			learned,
		);
		this.blank = learned.copy();
		this.placeOf = new Int32Array(channels.length).fill(-1);
		analog.forEach((column, a) => {
			this.placeOf[column] = a;
		});
		this.buttons.forEach((button, b) => {
			this.placeOf[button.column] = b;
		});
		this.counterColumn = columnsOf(layout, ({role}) => role === 'counter')[0] ?? -1;
		this.clockColumn = columnsOf(layout, ({role}) => role === 'clock')[0] ?? -1;
	}

	/** The hand of the finger at analog place `a`; undefined for a stick axis. */
	handAt(a: number): Hand | undefined {
		return this.hands[this.handOf[a]];
	}

	/** Whether the channel at analog place `a` is a finger as far as is known: no open pin, no ghost, not learning its range. */
	isFinger(a: number): boolean {
		return this.learning[a] === 0 && this.handAt(a)?.out[a] === 0;
	}

	/**
	 * Forgets what was learned (check-values D2, epoch): the board started again, the port came back, the scale is another. The epoch
	 * began at `t` with frame number `first` of the history; what has come since then is taken in again.
	 */
	beginEpoch(first = this.history.count, t = this.now): void {
		const {history, now} = this;
		this.learned.putBack(this.blank);
		this.rateOf = -1;
		this.epochFrom = t;
		this.epochFrame = Math.max(first, history.oldest);
		this.blockFrom = this.epochFrame;
		this.blockStart = Number.NaN;
		if (this.epochFrame === history.count) return;
		for (const button of this.buttons) {
			for (let frame = this.epochFrame; frame < history.count; frame++)
				button.take(history.time(frame), history.reading(frame, button.column));
		}
		// Each block as it was then: what came later is not to be seen in it. Times in which nothing came are passed over.
		const {count} = history;
		for (let frame = this.epochFrame; frame < count; frame = history.count) {
			history.count = count;
			const start = gridBefore(history.time(frame));
			const end = start + ChannelRows.seconds;
			if (frame === this.blockFrom) this.blockStart = start;
			if (end > now) break;
			history.count = Math.max(frame + 1, history.firstAt(end));
			this.closeBlock(end);
		}
		history.count = count;
		this.ghosts.keep(this);
		this.now = now;
	}

	/** When the epoch of the analog channel at place `a` began, seconds; its first frame's number. */
	epochFromOf(a: number): number {
		return Math.max(this.epochFrom, this.channelFrom[a]);
	}

	epochFrameOf(a: number): number {
		return Math.max(this.epochFrame, this.channelFrame[a]);
	}

	/** Begins a new epoch of one analog channel. */
	forget(a: number): void {
		this.channelFrom[a] = this.now;
		this.channelFrame[a] = this.history.count;
		this.analog.forget(a);
		this.handAt(a)?.forget(a, this.now);
		this.proof.forget(a);
		this.closingSenses.forget(a);
		this.proven[a] = 0;
		this.open[a] = 0;
		for (const watch of this.watches) watch.forget(a);
	}

	/** Takes one frame in; `values[i]` is column i. True where it tells that the board started again. */
	takeFrame(t: number, values: Float64Array, lineBytes: number): boolean {
		if (Number.isNaN(this.blockStart)) this.blockStart = gridBefore(t);
		this.dropImpossible(values);
		this.history.push(t, values, lineBytes);
		if (this.history.count % (FrameHistory.capacity / 8) === 0) this.ghosts.keep(this);
		if (this.counterColumn >= 0) this.repeats.take(this.history);
		const isRestart = this.link.takeFrame(t, values, this.counterColumn, this.clockColumn);
		for (const button of this.buttons) button.take(t, values[button.column]);
		return isRestart;
	}

	/**
	 * Two numbers run together (`634,631` without its comma in a line that lost another digit elsewhere) are no reading:
	 * a value far beyond full scale next to an ordinary one becomes NaN, and the line counts as damaged. A wrongly declared
	 * scale shows in every reading, so there the one before is as large. What no converter gives is none in any case.
	 */
	private dropImpossible(values: Float64Array): void {
		const {history, scale} = this;
		const limit = scale.railLow + impossibleScales * scale.fullScale;
		const ordinary = scale.railLow + 1.5 * scale.fullScale;
		const {columns} = history;
		const before = (history.count - 1) & frameMask;
		const hasBefore = history.count > 0;
		let damaged = false;
		for (const column of this.analog.columns) {
			const value = values[column];
			const isApart = value > limit && hasBefore && columns[column][before] <= ordinary;
			if (!isApart && !(Math.abs(value) > mostCounts)) continue;
			values[column] = Number.NaN;
			damaged = true;
		}
		if (damaged) this.link.takeImpossible();
	}

	/**
	 * Closes the block that ends at grid time `end`, if it holds enough frames; `last` closes it however short. True where the
	 * readings turn out to be of another scale.
	 */
	closeBlock(end: number, last = false): boolean {
		this.now = end;
		const {history} = this;
		const frames = history.count - this.blockFrom;
		if (frames === 0) {
			this.blockStart = end;
			return false;
		}
		// A slow stream gathers frames for up to two seconds; at 3 frames/s and less channels are not judged.
		if (frames < ChannelRows.leastFrames && !last && end - this.blockStart < 2) return false;
		if (frames < 3) return false;
		const from = Math.max(this.blockFrom, history.oldest);
		this.analog.close(history, from, history.count, this.blockStart, end, last);
		// Where nothing comes any more movements are over as they stand.
		const decided = last ? end + afterEndSeconds : end;
		for (const hand of this.hands) hand.close(decided, this.leastWayOf(hand));
		this.proof.close(history, this.analog.columns, this.scale.fullScale);
		for (const watch of this.watches) watch.close(this);
		if (last) {
			this.now = decided;
			this.movements.close(this);
			this.openings.close(this);
			this.now = end;
		}
		this.blockFrom = history.count;
		this.blockStart = end;
		return this.settleScale();
	}

	/** For how long the epoch has been watched, seconds. */
	get watchedSeconds(): number {
		return this.now - this.epochFrom;
	}

	/** Length of a block, seconds: times of blocks are no finer. */
	readonly blockSeconds = ChannelRows.seconds;

	/** Recent frames per second, from the blocks; undefined before the first second. */
	get framesPerSecond(): number | undefined {
		// Asked a dozen times for each block.
		if (this.rateAt !== this.now || this.rateOf !== this.analog.rows.count) {
			this.rateAt = this.now;
			this.rateOf = this.analog.rows.count;
			this.rate = this.recentRate();
		}
		return this.rate;
	}

	private recentRate(): number | undefined {
		const {rows} = this.analog;
		const from = rows.firstSince(this.now - 3);
		if (rows.count - from < 2) return undefined;
		let frames = 0;
		for (let number = from; number < rows.count; number++) frames += rows.frames[rows.slot(number)];
		return frames / (rows.end[rows.slot(rows.count - 1)] - rows.start[rows.slot(from)]);
	}

	/** The name of the analog channel at place `a`. */
	analogName(a: number): string {
		return this.layout.channels[this.analog.columns[a]].name;
	}

	/** Counts as a percentage of full scale. */
	percent(counts: number): number {
		return (100 * counts) / this.scale.fullScale;
	}

	/**
	 * Counts as a percentage of the converter's scale, of which the readings may be a stretched part: noise and hum that come
	 * in on the way to the converter are judged by it.
	 */
	percentOfConverter(counts: number): number {
		return this.percent(counts) / (this.scale.isNormalised ? stretchOfFirmware : 1);
	}

	/** Until a finger is proven a movement has to go as far as a proof asks. */
	private leastWayOf({fingers}: Hand): number {
		return fingers.some(f => this.proven[f] === 1) ? 0 : unprovenWay * this.scale.fullScale;
	}

	private settleScale(): boolean {
		const {scale, analog} = this;
		if (!scale.sure) {
			let near = 0;
			for (const high of analog.spans.high) if (high >= 250 && high <= 255) near++;
			scale.settleSmall(near);
		}
		const isOther = scale.fullScale !== this.scaleBefore && this.scaleBefore !== 0;
		this.scaleBefore = scale.fullScale;
		if (isOther) this.beginEpoch(this.blockFrom);
		return isOther;
	}
}

/** After so long without a trip all that went before is decided, seconds. */
const afterEndSeconds = 2;

/** Half of real sensors use less than 16 % of the converter's scale (check-values H-real): put on 0…1 by firmware they are stretched six times. */
const stretchOfFirmware = 6;

/** The last grid time at or before `t`. */
function gridBefore(t: number): number {
	return Math.floor(t / ChannelRows.seconds) * ChannelRows.seconds;
}

/** Fingers of each hand as places among the analog channels: by the hand their channel names. */
function fingersByHand(analog: readonly number[], channels: readonly Channel[]): number[][] {
	const hands = new Map<string, number[]>();
	analog.forEach((column, a) => {
		const {role, hand} = channels[column];
		if (role !== 'finger') return;
		const key = hand ?? '';
		hands.set(key, [...(hands.get(key) ?? []), a]);
	});
	return [...hands.values()];
}

/** Columns of the channels that are wanted. */
function columnsOf({channels}: Layout, wanted: (channel: Channel) => boolean): number[] {
	return channels.filter(wanted).map(channel => channel.index);
}
