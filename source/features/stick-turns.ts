import type {StateBlock} from './state-block.ts';

/** Farther out than this share of half scale an angle means something: noise of a resting stick has none. */
const outShare = 0.4;

/** A step of more than this between two frames, radians, is a leap across the middle and no turning. */
const mostStep = 1;

/** Going on around without a rest for less than this share of a turn is a push that went aside. */
const leastTurn = 0.75;

/** How often a stick was turned all the way round. */
export class StickTurns {
	/** Angle of the last frame, radians; NaN where it was not far enough out. */
	private readonly angle: Float64Array;
	/** Angle gone since the stick last lay still, radians; signed, so that to and fro cancels. */
	private readonly going: Float64Array;
	private readonly done: Float64Array;

	constructor(state: StateBlock) {
		this.angle = state.floats(1, Number.NaN);
		this.going = state.floats(1);
		this.done = state.floats(1);
	}

	/** Takes frame `i` of the two axes' ways from the rest point, in shares of half scale. */
	take([xs, ys]: readonly [Float64Array, Float64Array], i: number): void {
		const x = xs[i];
		const y = ys[i];
		// The hypotenuse is at most √2 times the longer side.
		if (x * x + y * y <= outShare * outShare) {
			this.angle[0] = Number.NaN;
			return;
		}
		const angle = Math.atan2(y, x);
		let step = angle - this.angle[0];
		if (step > Math.PI) step -= 2 * Math.PI;
		else if (step < -Math.PI) step += 2 * Math.PI;
		if (Math.abs(step) < mostStep) this.going[0] += step;
		this.angle[0] = angle;
	}

	/** Both axes lie still: what was going on is over. */
	rest(): void {
		this.done[0] += turnsOf(this.going[0]);
		this.going[0] = 0;
	}

	/** Turns all the way round so far, either way. */
	get count(): number {
		return this.done[0] + turnsOf(this.going[0]);
	}

	forget(): void {
		this.angle[0] = Number.NaN;
		this.going[0] = 0;
		this.done[0] = 0;
	}
}

function turnsOf(angle: number): number {
	const turns = Math.abs(angle) / (2 * Math.PI);
	return turns >= leastTurn ? turns : 0;
}
