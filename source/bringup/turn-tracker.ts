import {itemAt} from '../item-at.ts';

/** Share of half scale from which on a stick is off its middle far enough for an angle. */
const leastRadius = 0.3;

/** Counts turns of a stick around its rest point and how far it reaches. Constant time per reading. */
export class TurnTracker {
	/** Farthest way from the rest point along −x, +x, −y, +y, in the unit of the readings; lone readings left out. */
	readonly reach = new Float64Array(4);
	private angle = Number.NaN;
	private turned = 0;
	private readonly last = new Float64Array(4);

	/** Takes the next position relative to the rest point. */
	push(x: number, y: number, halfScale: number): void {
		if (Number.isNaN(x) || Number.isNaN(y)) return;
		for (const [i, way] of [-x, x, -y, y].entries()) {
			// The lower of two neighbours, so that a lone glitch is no reach.
			this.reach[i] = Math.max(itemAt(this.reach, i), Math.min(way, itemAt(this.last, i)));
			this.last[i] = way;
		}

		if (Math.hypot(x, y) < leastRadius * halfScale) {
			this.angle = Number.NaN;
			return;
		}

		const angle = Math.atan2(y, x);
		if (!Number.isNaN(this.angle)) {
			let step = angle - this.angle;
			if (step > Math.PI) step -= 2 * Math.PI;
			else if (step < -Math.PI) step += 2 * Math.PI;
			this.turned += step;
		}

		this.angle = angle;
	}

	/** Whole turns so far; there and back cancel. A turn begun in mid-way counts from where it began. */
	get turns(): number {
		return Math.abs(this.turned) / (2 * Math.PI);
	}
}
