import type {Axis} from './axis.ts';
import type {GloveSpec} from './glove.ts';
import type {Random} from './random.ts';

/** What single fingers do, and how long and how far the hand of a glove does it. Each movement returns when it is over, seconds. */
export class FingerMoves {
	constructor(
		readonly glove: GloveSpec,
		readonly random: Random,
		readonly fingers: readonly Axis[],
	) {}

	/** Duration of one movement of one finger around `seconds`. */
	duration(seconds: number): number {
		const spread = this.glove.hand.durationSpread;
		return seconds * Math.min(1.6, Math.max(0.6, 1 + this.random.normal(0, spread)));
	}

	depth(depth: number | undefined): number {
		const {hand} = this.glove;
		const mean = depth ?? hand.depth;
		return Math.min(1, Math.max(0.05, mean - Math.abs(this.random.normal(0, hand.depthSpread))));
	}

	/** Open position of finger `i` this time. */
	open(i: number): number {
		const {hand, fingers} = this.glove;
		return Math.max(0, (hand.relaxed[i] ?? 0.03) + this.random.normal(0, fingers[i].returnScatter));
	}

	/**
	 * One finger to `to`, its neighbours after it by their coupling: they set off once it has gone a few degrees (check-values
	 * H21), take a time of their own, and ease back part of the way while it stays.
	 */
	private moveAlone(t: number, i: number, seconds: number, to: number): number {
		const random = this.random;
		const axis = this.fingers[i];
		const delta = to - axis.level;
		axis.move(t, seconds, to);
		for (const [j, neighbour] of this.fingers.entries()) {
			if (j === i) continue;
			const share = this.glove.hand.coupling[i]?.[j] ?? 0;
			if (share < 0.002) continue;
			const followed = share * delta * random.uniform(0.6, 1.2);
			const target = Math.min(1, Math.max(0, neighbour.level + followed));
			const begin = t + seconds * random.uniform(0.05, 0.25);
			const duration = seconds * random.uniform(0.7, 1.3);
			neighbour.move(begin, duration, target);
			if (seconds > 0.15 && random.chance(0.7)) {
				const eased = Math.min(1, Math.max(0, target - followed * random.uniform(-0.15, 0.35)));
				neighbour.move(begin + duration * 0.8, random.uniform(0.2, 0.6), eased);
			}
		}
		return t + seconds;
	}

	curl(start: number, i: number, depth: number | undefined): number {
		if (i < 0) return start;
		const random = this.random;
		const seconds = this.duration(this.glove.hand.closeSeconds);
		let t = this.moveAlone(start, i, seconds, this.depth(depth));
		t += random.uniform(0.05, 0.4);
		t = this.moveAlone(t, i, this.duration(this.glove.hand.closeSeconds), this.open(i));
		// Neighbours end where they would lie at rest, not where rounding of their share left them.
		for (const [j, axis] of this.fingers.entries()) if (j !== i) axis.move(t, 0.3, this.open(j));
		return t + random.uniform(0.2, 0.6);
	}

	/** A hand outside the glove draws the cord out and lets the spring take it back; paces: common practice, no source. */
	pulls(start: number, i: number, times: number): number {
		if (i < 0) return start;
		const random = this.random;
		const axis = this.fingers[i];
		let t = start;
		for (let n = 0; n < times; n++) {
			const out = random.uniform(0.35, 1.1);
			axis.move(t, out, random.uniform(0.85, 1));
			t += out + random.uniform(0.05, 0.5);
			const back = random.uniform(0.3, 1);
			axis.move(t, back, this.open(i));
			t += back + random.uniform(0.2, 0.7);
		}
		return t;
	}

	/** Cord from mark to mark, out and back, twice; a person's pace: common practice, no source. Nothing else moves. */
	ruler(start: number, i: number, stepMm: number): number {
		if (i < 0) return start;
		const axis = this.fingers[i];
		const {cordTravelMm, curve} = this.glove.fingers[i];
		const marks = Math.floor(cordTravelMm / stepMm);
		const out = Array.from({length: marks}, (_, mark) => mark + 1);
		const way = [...out, ...out.slice(0, -1).reverse(), 0];
		let t = start;
		for (const mark of [0, ...way, ...way]) {
			axis.move(t, 0.4, ((mark * stepMm) / cordTravelMm) ** (1 / curve));
			t += this.random.uniform(1.4, 1.7);
		}

		axis.move(t, 0.4, this.open(i));
		return t + 0.6;
	}

	taps(start: number, i: number, times: number, hertz: number | undefined): number {
		if (i < 0) return start;
		const random = this.random;
		const pace = hertz ?? random.uniform(3.5, 6.5);
		const depth = random.uniform(0.15, 0.45);
		let t = start;
		for (let n = 0; n < times; n++) {
			const period = (1 / pace) * random.uniform(0.92, 1.08);
			this.moveAlone(t, i, period * 0.45, this.open(i) + depth * random.uniform(0.8, 1.2));
			this.moveAlone(t + period * 0.5, i, period * 0.45, this.open(i));
			t += period;
		}
		return t + 0.2;
	}

	/** Moves every finger to its target within about `seconds`; returns when the last has arrived. */
	everyFinger(t: number, seconds: number, target: (i: number) => number): number {
		let end = t;
		for (const [i, axis] of this.fingers.entries()) {
			const begin = t + Math.abs(this.random.normal(0, this.glove.hand.startSpreadSeconds));
			const duration = this.duration(seconds);
			axis.move(begin, duration, target(i));
			end = Math.max(end, begin + duration);
		}
		return end;
	}
}
