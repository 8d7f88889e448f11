import type {Timing} from '../stream/source-item.ts';
import {ClockWatch} from './clock-watch.ts';
import {CounterWatch} from './counter-watch.ts';
import {InterarrivalJitter} from './interarrival-jitter.ts';
import {IntervalSketch} from './interval-sketch.ts';
import {TickHistory} from './tick-history.ts';

/** Arrival times kept for clumping and drawing. */
const arrivalsKept = 4096;

/** A pause this long is looked at (the definition of a stall). */
const pauseSeconds = 0.5;

/** Differences beyond this many nominal intervals are pauses, not jitter. */
const pauseShare = 5;

/** A column without a name that rises for so many seconds is a clock; the slowest sweep of a finger takes less. */
const doubtSeconds = 4;

export type Pause = {readonly from: number; readonly to: number; readonly nominal: number};
export type Restart = {
	readonly t: number /** When the line that tells of it was told: it may have waited to be understood. */;
	readonly notedAt: number;
	readonly sign: 'counter' | 'clock' | 'text';
	readonly detail: string;
};
export type StrayLine = {readonly t: number; readonly notedAt: number; readonly text: string};

/** Everything measured on the link: how bytes, lines and frames arrive. Times in seconds. */
export class LinkFeatures {
	readonly timing: Timing;
	readonly baud: number | null;
	readonly targetRate: number;
	now = 0;
	frames = 0;
	bytes = 0;
	badLines = 0;
	strayLines = 0;
	firstByteAt = Number.NaN;
	lastByteAt = Number.NaN;
	firstFrameAt = Number.NaN;
	lastFrameAt = Number.NaN;
	firstJunkAt = Number.NaN;
	lastJunkAt = Number.NaN;
	lastBadLine = '';
	portLostAt = Number.NaN;
	portLostDetail = '';
	reattachedAt = Number.NaN;
	/** Spacing at the sender, seconds: the median interval so far. */
	nominal = 0;
	readonly intervals = new IntervalSketch();
	readonly histogram = new Float64Array(60);
	readonly jitter = new InterarrivalJitter();
	readonly ticks = new TickHistory();
	readonly arrivals = new Float64Array(arrivalsKept);
	readonly pauses: Pause[] = [];
	readonly restarts: Restart[] = [];
	readonly strays: StrayLine[] = [];
	/** Text that came before the first frame. */
	readonly banner: string[] = [];
	zeroIntervals = 0;
	/** The latest received bytes, raw, for telling which rate would fit when they are no text. */
	readonly sample = new Uint8Array(1024);
	sampled = 0;
	private counter = new CounterWatch();
	private clock: ClockWatch | null = null;
	private clockDoubtfulUntil = Number.NEGATIVE_INFINITY;
	private nonTextSeen = 0;
	private current = {
		bytes: 0,
		frames: 0,
		badLines: 0,
		eaten: 0,
		jitter: 0,
		spaced: 0,
		regular: 0,
		gaps: 0,
		missing: 0,
		irregular: 0,
		skipped: 0,
	};

	constructor(timing: Timing, baud: number | null, targetRate: number) {
		this.timing = timing;
		this.baud = baud;
		this.targetRate = targetRate;
	}

	/** A new layout: its counter and clock start afresh. `named`: the clock is called one, not only taken for one. */
	relayout(clockUnitSeconds: number | undefined, named = true): void {
		this.counter = new CounterWatch();
		this.clockDoubtfulUntil = named ? Number.NEGATIVE_INFINITY : this.now + doubtSeconds;
		this.clock = clockUnitSeconds === undefined ? null : new ClockWatch(clockUnitSeconds);
		this.jitter.restart();
	}

	takeBytes(t: number, bytes: Uint8Array): void {
		const count = bytes.length;
		if (count === 0) return;
		// Only needed while no frame has come lately: text that reads well needs no sample.
		if (this.current.frames === 0) {
			for (let i = Math.max(0, count - 1024); i < count; i++) this.sample[this.sampled++ & 1023] = bytes[i];
		}
		if (this.bytes === 0) this.firstByteAt = t;
		this.bytes += count;
		this.current.bytes += count;
		this.lastByteAt = t;
	}

	/** `startUp`: part of what a board says when it starts. */
	takeBadLine(excerpt: string, startUp = false): void {
		this.badLines++;
		// What comes before the first frame is a partial line or start-up text that looks a little like frames.
		if (this.frames > 0 && !startUp) this.current.badLines++;
		this.lastBadLine = excerpt;
	}

	takeStrayLine(t: number, text: string): void {
		this.strayLines++;
		const list: {length: number; push(x: unknown): void} = this.frames === 0 ? this.banner : this.strays;
		if (list.length < 200) list.push(this.frames === 0 ? text : {t, notedAt: Math.max(t, this.now), text});
	}

	/** A frame arrived. Columns of its counter and of its clock are −1 where the layout has none. */
	takeFrame(t: number, values: Float64Array, counterColumn: number, clockColumn: number): void {
		const {current} = this;
		const first = this.frames === 0;
		const interval = first ? 0 : t - this.lastFrameAt;
		this.arrivals[this.frames & (arrivalsKept - 1)] = t;
		this.frames++;
		current.frames++;
		if (!first) this.takeInterval(t, interval);
		else this.firstFrameAt = t;
		const counter = counterColumn < 0 ? Number.NaN : values[counterColumn];
		if (!Number.isNaN(counter)) {
			const step = this.counter.take(
				counter,
				this.timing === 'assumed' ? Number.POSITIVE_INFINITY : this.nominal > 0 ? interval / this.nominal : 0,
			);
			if (step.kind === 'restart') this.restarted(t, 'counter', `frame counter fell back to ${counter}`);
			else current.skipped += step.lost;
		}
		this.takeJitter(t, interval, first, clockColumn < 0 ? Number.NaN : values[clockColumn]);
		this.lastFrameAt = t;
	}

	private takeJitter(t: number, interval: number, first: boolean, clock: number): void {
		const {jitter, nominal} = this;
		let difference = Number.NaN;
		if (this.clock && !Number.isNaN(clock)) {
			const before = this.clock.seconds;
			const step = this.clock.take(clock);
			if (step === 'odd') return;
			if (step === 'restart') {
				if (t >= this.clockDoubtfulUntil) this.restarted(t, 'clock', `board clock fell back to ${clock}`);
				jitter.restart();
			} else if (!first) difference = interval - (this.clock.seconds - before);
			if (t < this.clockDoubtfulUntil) return;
			jitter.add(t, this.clock.seconds);
		} else if (!first && nominal > 0) {
			difference = interval - nominal;
			jitter.addDifference(difference);
		}
		if (Math.abs(difference) <= pauseShare * nominal) {
			this.current.jitter += Math.abs(difference);
			this.current.spaced++;
		}
	}

	private takeInterval(t: number, interval: number): void {
		const {current} = this;
		this.intervals.add(interval);
		if (interval === 0) this.zeroIntervals++;
		const bin = interval <= 1e-4 ? 0 : Math.min(59, Math.floor(4 * Math.log2(interval / 1e-4)));
		this.histogram[bin]++;
		const {nominal} = this;
		if (interval >= pauseSeconds && this.pauses.length < 1000)
			this.pauses.push({from: this.lastFrameAt, to: t, nominal});
		if (nominal <= 0) return;
		const ratio = interval / nominal;
		const whole = Math.round(ratio);
		if (ratio >= 0.75 && ratio <= 1.25) current.regular++;
		else if (whole >= 2 && whole <= 20 && Math.abs(ratio - whole) <= 0.25) {
			current.gaps++;
			current.missing += whole - 1;
		} else current.irregular++;
	}

	/** Text after a pause, or known start-up text, tells that the board began anew; `faults` decide, this only notes. */
	restarted(t: number, sign: Restart['sign'], detail: string): void {
		if (this.restarts.length < 1000) this.restarts.push({t, notedAt: Math.max(t, this.now), sign, detail});
	}

	/** Closes the tick that ends at `end`. `nonText` is the framer's total of bytes that are no text; `eaten` likewise. */
	closeTick(end: number, nonText: number, eaten: number): void {
		const {ticks, current} = this;
		const place = ticks.count & (TickHistory.capacity - 1);
		ticks.end[place] = end;
		ticks.bytes[place] = current.bytes;
		const junk = nonText - this.nonTextSeen;
		this.nonTextSeen = nonText;
		ticks.nonText[place] = junk;
		// Lone odd bytes are line noise; a fifth of the tick's bytes is the definition's share.
		if (current.bytes > 0) {
			if (junk >= 0.2 * current.bytes) {
				if (Number.isNaN(this.firstJunkAt)) this.firstJunkAt = end - TickHistory.seconds;
				this.lastJunkAt = end;
			} else if (current.frames > 0) this.firstJunkAt = Number.NaN;
		}
		ticks.frames[place] = current.frames;
		ticks.badLines[place] = current.badLines;
		ticks.eaten[place] = eaten - this.eatenSeen;
		this.eatenSeen = eaten;
		ticks.jitter[place] = current.jitter;
		ticks.spaced[place] = current.spaced;
		ticks.regular[place] = current.regular;
		ticks.gaps[place] = current.gaps;
		ticks.missing[place] = current.missing;
		ticks.irregular[place] = current.irregular;
		ticks.skipped[place] = current.skipped;
		ticks.count++;
		this.now = end;
		for (const key of Object.keys(current) as (keyof typeof current)[]) current[key] = 0;
		// The median hardly moves once some seconds have been seen; walking the sketch is not free.
		const {count} = ticks;
		if (this.intervals.total > 0 && (count < 16 || count % 8 === 0)) this.nominal = this.intervals.quantile(0.5) ?? 0;
	}

	private eatenSeen = 0;

	/** Arrival time of the frame `back` frames before the newest. */
	arrival(back: number): number {
		return this.arrivals[(this.frames - 1 - back) & (arrivalsKept - 1)];
	}

	/** How many arrivals can be looked back on. */
	get arrivalsHeld(): number {
		return Math.min(this.frames, arrivalsKept);
	}

	/** Times made up, or stamped so coarsely that several frames share a stamp: spacing can't be judged. */
	get spacingKnown(): boolean {
		return this.timing !== 'assumed' && !this.stampsCoarse;
	}

	/** A log whose stamps are coarser than the frames: a third of the frames or more share the stamp before. */
	get stampsCoarse(): boolean {
		return this.timing === 'column' && this.intervals.total >= 20 && this.zeroIntervals > 0.33 * this.intervals.total;
	}
}
