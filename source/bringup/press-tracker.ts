import {itemAt} from '../item-at.ts';

/** A press lasts at least this long, or two frames; shorter is bounce or a damaged frame. */
const leastSeconds = 0.015;

/** After a press, edges within this time belong to it. */
const bounceSeconds = 0.06;

/** So many edges in so many seconds are no finger: the pin floats. */
const floatingEdges = 12;
const floatingSeconds = 2;

/** Watches one button column for presses: away from its idle level and back. Constant time per reading. */
export class PressTracker {
	readonly column: number;
	/** Presses so far. */
	presses = 0;
	private idle = Number.NaN;
	private isDown = false;
	private downAt = 0;
	private downFrames = 0;
	private lastUpAt = Number.NEGATIVE_INFINITY;
	private readonly edges = new Float64Array(floatingEdges).fill(Number.NEGATIVE_INFINITY);
	private edge = 0;

	constructor(column: number) {
		this.column = column;
	}

	/** Takes the next reading; answers true where it completes a press. `idle` is learned while `isResting`. */
	push(t: number, reading: number, isResting: boolean): boolean {
		if (Number.isNaN(reading)) return false;
		if (Number.isNaN(this.idle) || (isResting && !this.isDown)) this.idle = reading;
		const isDown = reading !== this.idle;
		if (isDown !== this.isDown) {
			this.edges[this.edge++ % floatingEdges] = t;
			this.isDown = isDown;
			if (isDown) {
				this.downAt = t;
				this.downFrames = 0;
			} else return this.release(t);
		}

		if (isDown) this.downFrames++;
		return false;
	}

	/** True while the column toggles faster than a finger can. */
	isFloating(t: number): boolean {
		return this.edge >= floatingEdges && t - itemAt(this.edges, this.edge % floatingEdges) <= floatingSeconds;
	}

	private release(t: number): boolean {
		if (t - this.downAt < leastSeconds && this.downFrames < 2) return false;
		const isOwn = this.downAt - this.lastUpAt > bounceSeconds;
		this.lastUpAt = t;
		if (!isOwn || this.isFloating(t)) return false;
		this.presses++;
		return true;
	}
}
