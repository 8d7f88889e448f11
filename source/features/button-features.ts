/** Edges kept per button. */
const kept = 256;

/** Two edges closer than this after a press are no finger (the definition of bounce). */
const bounceSeconds = 0.025;

/** Presses, dwells and edges of one button. */
export class ButtonFeatures {
	readonly column: number;
	/** Readings above this are the high state; between the two values seen. */
	private threshold = 0.5;
	lowest = Number.POSITIVE_INFINITY;
	highest = Number.NEGATIVE_INFINITY;
	/** 1 high, 0 low, −1 before the first frame. */
	state: -1 | 0 | 1 = -1;
	firstState: -1 | 0 | 1 = -1;
	firstAt = Number.NaN;
	/** Seconds spent high and low. */
	highSeconds = 0;
	lowSeconds = 0;
	edges = 0;
	readonly edgeTimes = new Float64Array(kept);
	/** Frames that the state before each edge lasted. */
	readonly dwellFrames = new Int32Array(kept);
	/** Edges of one touch drawn together: a touch begins with an edge after a quiet 60 ms. */
	touches = 0;
	presses = 0;
	bouncedTouches = 0;
	readonly touchTimes = new Float64Array(kept);
	readonly touchBounced = new Uint8Array(kept);
	/** 1 where the state before this touch differs from the one before the touch before: a touch that settled on a change. */
	readonly touchChanged = new Uint8Array(kept);
	private stateBeforeTouch = -1;
	/** 1 where the touch is a press, 0 where it is a release. */
	readonly touchPress = new Uint8Array(kept);
	/** Shortest time in the state that is not the usual one, bounce left out; Infinity before. */
	shortestPressSeconds = Number.POSITIVE_INFINITY;
	private lastAt = Number.NaN;
	lastEdgeAt = Number.NEGATIVE_INFINITY;
	private frames = 0;

	constructor(column: number) {
		this.column = column;
	}

	/** Whether the button has been proven (design §2): two clean presses. */
	get isProven(): boolean {
		return this.edges >= 4;
	}

	/** `nominal` is the usual frame spacing, seconds: frames that a host held back come all at once. */
	take(t: number, reading: number, nominal: number): void {
		if (Number.isNaN(reading)) return;
		if (reading < this.lowest || reading > this.highest) {
			this.lowest = Math.min(this.lowest, reading);
			this.highest = Math.max(this.highest, reading);
			this.threshold = this.highest > this.lowest ? (this.lowest + this.highest) / 2 : 0.5;
		}
		const state = reading > this.threshold ? 1 : 0;
		if (this.state === -1) {
			this.state = state;
			this.firstState = state;
			this.firstAt = t;
		}
		const passed = t - this.lastAt;
		if (!Number.isNaN(passed)) {
			if (this.state === 1) this.highSeconds += passed;
			else this.lowSeconds += passed;
		}
		this.lastAt = t;
		if (state === this.state) {
			this.frames++;
			return;
		}
		this.edge(t, nominal);
		this.state = state;
		this.frames = 1;
	}

	/** Level of the idle state as far as this button alone can tell: where it spends most of its time. */
	get usual(): 0 | 1 {
		return this.highSeconds >= this.lowSeconds ? 1 : 0;
	}

	edgesSince(t: number): number {
		let count = 0;
		for (let number = this.edges - 1; number >= Math.max(0, this.edges - kept); number--) {
			if (this.edgeTimes[number & (kept - 1)] < t) break;
			count++;
		}
		return count;
	}

	/** Share of the dwells before the last `count` edges that lasted at most `frames` frames. */
	shortDwells(count: number, frames: number): number {
		const held = Math.min(count, this.edges, kept);
		let short = 0;
		for (let back = 1; back <= held; back++) if (this.dwellFrames[(this.edges - back) & (kept - 1)] <= frames) short++;
		return held === 0 ? 0 : short / held;
	}

	/** Touches since `t`, and how many of them left the state changed, as a press or a release does. */
	touchesSince(t: number): {touches: number; changed: number} {
		let touches = 0;
		let changed = 0;
		for (let number = this.touches - 1; number >= Math.max(0, this.touches - kept); number--) {
			const place = number & (kept - 1);
			if (this.touchTimes[place] < t) break;
			touches++;
			changed += this.touchChanged[place];
		}
		return {touches, changed};
	}

	/** Presses since `t`, and how many of them bounced. */
	pressesSince(t: number): {presses: number; bounced: number} {
		let presses = 0;
		let bounced = 0;
		for (let number = this.touches - 1; number >= Math.max(0, this.touches - kept); number--) {
			const place = number & (kept - 1);
			if (this.touchTimes[place] < t) break;
			if (this.touchPress[place] === 0) continue;
			presses++;
			bounced += this.touchBounced[place];
		}
		return {presses, bounced};
	}

	private edge(t: number, nominal: number): void {
		const place = this.edges & (kept - 1);
		this.edgeTimes[place] = t;
		this.dwellFrames[place] = this.frames;
		const since = t - this.lastEdgeAt;
		this.edges++;
		if (since > 0.06 || this.touches === 0) {
			this.touchTimes[this.touches & (kept - 1)] = t;
			this.touchBounced[this.touches & (kept - 1)] = 0;
			const pressed = (this.state === 1 ? 0 : 1) !== this.usual;
			this.touchPress[this.touches & (kept - 1)] = pressed ? 1 : 0;
			this.touchChanged[this.touches & (kept - 1)] = this.state !== this.stateBeforeTouch ? 1 : 0;
			this.stateBeforeTouch = this.state;
			if (pressed) this.presses++;
			this.touches++;
			if (this.edges > 1 && this.state !== this.usual && since < this.shortestPressSeconds)
				this.shortestPressSeconds = since;
		} else if (since <= bounceSeconds + 1e-6 && this.frames * nominal <= bounceSeconds + nominal) {
			const last = (this.touches - 1) & (kept - 1);
			// Counted once, and only while it is the touch's own first moments.
			if (t - this.touchTimes[last] <= bounceSeconds + 1e-6 && this.touchBounced[last] === 0) {
				this.touchBounced[last] = 1;
				this.bouncedTouches++;
			}
		}
		this.lastEdgeAt = t;
	}
}
