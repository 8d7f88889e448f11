import type {StateBlock} from './state-block.ts';

/** Edges and touches kept per button. */
const kept = 512;

/** Two edges closer than this after a press are no finger's (check-values D5.4, button-bounce). */
const bounceSeconds = 0.025;

/** Nobody lets go and presses again sooner: seven taps a second (tapping-rate studies, from memory) are 71 ms each way. */
const touchSeconds = 0.06;

/** Clean presses that prove a button (check-values D2), and the share of all its touches that must be clean: chance gives fewer. */
export const provenPresses = 2;
const cleanShare = 0.5;

/** A button that is used is pressed for a small part of the time; one that floats is high for half of it. */
const idleShare = 0.8;

/** Some presses: all, those that bounced, those without any extra edge; and when the first that bounced began, seconds. */
export type Presses = {
	readonly presses: number;
	readonly bounced: number;
	readonly clean: number;
	readonly bouncedFrom: number;
};

/** Edges, dwells, touches and presses of one button. A touch is what comes after a quiet 60 ms: a press, or a release. */
export class ButtonFeatures {
	readonly column: number;
	/** A label or the sheet says that it is a button. */
	readonly isNamed: boolean;
	/** Number of edges and of touches so far; the last `kept` of each are held. */
	private readonly edgeCount: Int32Array;
	private readonly touchCount: Int32Array;
	private readonly edgeTimes: Float64Array;
	/** Frames that the state before each edge lasted. */
	private readonly dwellFrames: Int32Array;
	private readonly touchTimes: Float64Array;
	private readonly touchEdges: Int32Array;
	/** 1 where an edge came within 25 ms of the touch's beginning. */
	private readonly touchBounced: Uint8Array;
	/** The state before each touch. */
	private readonly touchBefore: Uint8Array;
	private readonly pressCount: Int32Array;
	private readonly bounceCount: Int32Array;
	/** Lowest and highest reading; readings above their middle are the high state. */
	private readonly range: Float64Array;
	/** 1 high, 0 low, −1 before the first frame: now, and at first. */
	private readonly states: Int32Array;
	/** Times of the first frame, of the last one and of the last edge, seconds. */
	private readonly times: Float64Array;
	/** Seconds spent low and high. */
	private readonly spent: Float64Array;
	private readonly shortest: Float64Array;
	/** Frames so far, and since the last edge. */
	private readonly frames: Int32Array;

	constructor(column: number, isNamed: boolean, state: StateBlock) {
		this.column = column;
		this.isNamed = isNamed;
		this.edgeCount = state.ints(1);
		this.touchCount = state.ints(1);
		this.edgeTimes = state.floats(kept);
		this.dwellFrames = state.ints(kept);
		this.touchTimes = state.floats(kept);
		this.touchEdges = state.ints(kept);
		this.touchBounced = state.bytes(kept);
		this.touchBefore = state.bytes(kept);
		this.pressCount = state.ints(1);
		this.bounceCount = state.ints(1);
		this.range = state.floats(2, Number.NaN);
		this.states = state.ints(2, -1);
		this.times = state.floats(3, Number.NaN);
		this.spent = state.floats(2);
		this.shortest = state.floats(1, Number.POSITIVE_INFINITY);
		this.frames = state.ints(2);
	}

	/** Takes a frame; a reading that is none (NaN) says nothing. */
	take(t: number, reading: number): void {
		if (Number.isNaN(reading)) return;
		const {range, states, times, frames} = this;
		if (!(reading >= range[0])) range[0] = reading;
		if (!(reading <= range[1])) range[1] = reading;
		const state = reading > (range[1] > range[0] ? (range[0] + range[1]) / 2 : 0.5) ? 1 : 0;
		if (states[0] === -1) {
			states.fill(state);
			times[0] = t;
		} else this.spent[states[0]] += t - times[1];
		times[1] = t;
		frames[0]++;
		if (state !== states[0]) {
			this.edge(t);
			states[0] = state;
			frames[1] = 0;
		}
		frames[1]++;
	}

	/** Forgets what was seen of it: presses, edges, its idle state. */
	forget(): void {
		for (const counts of [this.edgeCount, this.touchCount, this.pressCount, this.bounceCount, this.frames])
			counts.fill(0);
		this.states.fill(-1);
		this.times.fill(Number.NaN);
		this.spent.fill(0);
		this.shortest.fill(Number.POSITIVE_INFINITY);
	}

	/** 1 high, 0 low, −1 before the first frame. */
	get state(): number {
		return this.states[0];
	}

	/** The state of the first frame, and when that came, seconds. */
	get firstState(): number {
		return this.states[1];
	}

	get firstAt(): number {
		return this.times[0];
	}

	get lowest(): number {
		return this.range[0];
	}

	get highest(): number {
		return this.range[1];
	}

	get lowSeconds(): number {
		return this.spent[0];
	}

	get highSeconds(): number {
		return this.spent[1];
	}

	get edges(): number {
		return this.edgeCount[0];
	}

	get lastEdgeAt(): number {
		return this.times[2];
	}

	get presses(): number {
		return this.pressCount[0];
	}

	/** Touches so far with an extra edge within 25 ms. */
	get bouncedTouches(): number {
		return this.bounceCount[0];
	}

	/** Shortest time in the state that is not the usual one, seconds; Infinity before. */
	get shortestPressSeconds(): number {
		return this.shortest[0];
	}

	/** Level of the idle state as far as this button alone can tell: where it spends most of its time. */
	get usual(): 0 | 1 {
		return this.spent[1] > this.spent[0] || (this.spent[1] === this.spent[0] && this.states[0] === 1) ? 1 : 0;
	}

	/** Whether it has an idle state to compare others with: it is there nearly always. One that toggles by itself has none. */
	get idles(): boolean {
		const [low, high] = this.spent;
		return Math.max(low, high) >= idleShare * (low + high);
	}

	/** A constant column in a button's place that nothing names: it may be anything until it changes (check-values D2). */
	get isSpare(): boolean {
		return !this.isNamed && this.edges === 0;
	}

	/** Whether the button has been proven (check-values D2): two clean presses, and not by chance. */
	get isProven(): boolean {
		const {clean} = this.latestPresses(kept);
		return clean >= provenPresses && 2 * clean >= cleanShare * Math.min(kept, this.touchCount[0]);
	}

	/** Likewise by what it did at or after a time, seconds. */
	provenSince(t: number): boolean {
		return this.isProven && this.latestPresses(kept, t).clean >= provenPresses;
	}

	/** Edges at or after `t`, of those held. */
	edgesSince(t: number): number {
		let count = 0;
		for (let number = this.edges - 1; number >= Math.max(0, this.edges - kept); number--) {
			if (this.edgeTimes[number % kept] < t) break;
			count++;
		}
		return count;
	}

	/** Share of the dwells before the last `count` edges that lasted at most `frames` frames. */
	shortDwells(count: number, frames: number): number {
		const held = Math.min(count, this.edges, kept);
		let short = 0;
		for (let back = 1; back <= held; back++) if (this.dwellFrames[(this.edges - back) % kept] <= frames) short++;
		return held === 0 ? 0 : short / held;
	}

	/**
	 * How uneven the dwells before the last `count` edges are: their standard deviation as a share of their mean, of those
	 * high and those low by themselves, the smaller of the two. Chance gives 0.7 and more, a finger 0.3 and less.
	 */
	unevenness(count: number): number {
		const held = Math.min(count, this.edges, kept);
		let least = Number.POSITIVE_INFINITY;
		for (const first of [1, 2]) {
			let n = 0;
			let sum = 0;
			let squares = 0;
			for (let back = first; back <= held; back += 2) {
				const frames = this.dwellFrames[(this.edges - back) % kept];
				n++;
				sum += frames;
				squares += frames * frames;
			}
			if (n > 0) least = Math.min(least, Math.sqrt(Math.max(0, squares / n - (sum / n) ** 2)) / (sum / n));
		}
		return Number.isFinite(least) ? least : 0;
	}

	/** Touches since `t`, and how many of them left the state changed, as a press or a release does. */
	touchesSince(t: number): {readonly touches: number; readonly changed: number} {
		let touches = 0;
		let changed = 0;
		let after = this.states[0];
		for (let number = this.touchCount[0] - 1; number >= Math.max(0, this.touchCount[0] - kept); number--) {
			const place = number % kept;
			if (this.touchTimes[place] < t) break;
			touches++;
			if (this.touchBefore[place] !== after) changed++;
			after = this.touchBefore[place];
		}
		return {touches, changed};
	}

	/** The latest presses, at most `most` of them and none before `since`, each with the release that followed it. */
	latestPresses(most: number, since = Number.NEGATIVE_INFINITY): Presses {
		const {usual} = this;
		// The touch under way may yet show another edge.
		const ended = this.times[1] - this.times[2] > touchSeconds ? this.touchCount[0] : this.touchCount[0] - 1;
		let presses = 0;
		let bounced = 0;
		let clean = 0;
		let bouncedFrom = Number.NaN;
		for (let number = this.touchCount[0] - 1; number >= Math.max(0, this.touchCount[0] - kept); number--) {
			const press = number % kept;
			if (this.touchTimes[press] < since || presses === most) break;
			if (this.touchBefore[press] !== usual) continue;
			presses++;
			const release = number + 1 < this.touchCount[0] ? (number + 1) % kept : -1;
			if (this.touchBounced[press] === 1 || (release >= 0 && this.touchBounced[release] === 1)) {
				bounced++;
				bouncedFrom = this.touchTimes[press];
			}
			if (release >= 0 && number + 1 < ended && this.touchEdges[press] === 1 && this.touchEdges[release] === 1) clean++;
		}
		return {presses, bounced, clean, bouncedFrom};
	}

	private edge(t: number): void {
		const {times, frames, states} = this;
		const place = this.edgeCount[0]++ % kept;
		this.edgeTimes[place] = t;
		this.dwellFrames[place] = frames[1];
		// A host that held frames back brings them all at once: then their number tells how long it was.
		const spacing = (t - times[0]) / Math.max(1, frames[0] - 1);
		const dwelt = Math.max(t - times[2], frames[1] * spacing - 1e-6);
		if (this.touchCount[0] === 0 || dwelt > touchSeconds) this.beginTouch(t);
		else {
			const touch = (this.touchCount[0] - 1) % kept;
			this.touchEdges[touch]++;
			if (dwelt <= bounceSeconds && this.touchEdges[touch] === 2) {
				this.touchBounced[touch] = 1;
				this.bounceCount[0]++;
			}
		}
		if (this.edgeCount[0] > 1 && states[0] !== this.usual && dwelt > touchSeconds)
			this.shortest[0] = Math.min(this.shortest[0], t - times[2]);
		times[2] = t;
	}

	private beginTouch(t: number): void {
		const touch = this.touchCount[0]++ % kept;
		this.touchTimes[touch] = t;
		this.touchEdges[touch] = 1;
		this.touchBounced[touch] = 0;
		this.touchBefore[touch] = this.states[0];
		if (this.states[0] === this.usual) this.pressCount[0]++;
	}
}
