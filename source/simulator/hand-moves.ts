import {minimumJerk} from './axis.ts';
import type {FingerMoves} from './finger-moves.ts';
import {changeShare, creepReach, drawPosture, drawSway, relaxedShare} from './posture.ts';

/** What the fingers of a hand do together. Each movement returns when it is over, seconds. */
export class HandMoves {
	/** Moments at which the whole hand starts to close, in order: one per cycle. */
	readonly closings: number[] = [];

	constructor(private readonly moves: FingerMoves) {}

	fists(start: number, times: number, hertz: number | undefined, depth: number | undefined): number {
		const random = this.moves.random;
		const {hand} = this.moves.glove;
		let t = start;
		for (let n = 0; n < times; n++) {
			this.closings.push(t);
			const seconds = hertz ? 0.42 / hertz : hand.closeSeconds * random.uniform(0.8, 1.25);
			const spread = hertz ? Math.min(hand.startSpreadSeconds, 0.02) : hand.startSpreadSeconds;
			const hold = hertz ? 0.08 / hertz : random.uniform(0.02, 0.45);
			const pause = hertz ? 0.08 / hertz : random.uniform(0.05, 0.7);
			const opening = t + seconds + hold;
			let end = t;
			for (const [i, axis] of this.moves.fingers.entries()) {
				axis.move(t + Math.abs(random.normal(0, spread)), this.moves.duration(seconds), this.moves.depth(depth));
				const begin = opening + Math.abs(random.normal(0, spread));
				const duration = this.moves.duration(seconds * (hertz ? 1 : random.uniform(0.8, 1.2)));
				axis.move(begin, duration, this.moves.open(i));
				end = Math.max(end, begin + duration);
			}
			// Fast fists run into each other, so the pace is kept whatever the slowest finger does.
			t = hertz ? Math.max(t + 1 / hertz, opening + seconds * 0.8) : end + pause;
		}
		return t + 0.2;
	}

	sweeps(start: number, times: number, oneWay: number | undefined): number {
		const random = this.moves.random;
		let t = start;
		for (let n = 0; n < times; n++) {
			this.closings.push(t);
			const seconds = oneWay ?? random.uniform(2, 5);
			let end = t;
			for (const [i, axis] of this.moves.fingers.entries()) {
				const duration = seconds * random.uniform(0.95, 1.05);
				axis.move(t, duration, this.moves.depth(undefined));
				axis.move(t + seconds * 1.1, duration, this.moves.open(i));
				end = Math.max(end, t + seconds * 1.1 + duration);
			}
			t = end + random.uniform(0.1, 0.5);
		}
		return t;
	}

	rolls(start: number, times: number): number {
		const random = this.moves.random;
		let t = start;
		for (let n = 0; n < times; n++) {
			this.closings.push(t);
			const stagger = random.uniform(0.08, 0.25);
			const seconds = this.moves.glove.hand.closeSeconds;
			const order = [...this.moves.fingers.keys()];
			if (random.chance(0.5)) order.reverse();
			const opening = t + stagger * order.length + seconds + random.uniform(0, 0.2);
			let end = opening;
			for (const [place, i] of order.entries()) {
				this.moves.fingers[i].move(t + place * stagger, this.moves.duration(seconds), this.moves.depth(undefined));
				const duration = this.moves.duration(seconds);
				const begin = opening + place * stagger * random.uniform(0.3, 1);
				this.moves.fingers[i].move(begin, duration, this.moves.open(i));
				end = Math.max(end, begin + duration);
			}
			t = end + random.uniform(0.1, 0.5);
		}
		return t;
	}

	pose(start: number, seconds: number): number {
		const random = this.moves.random;
		let settled = start;
		for (const axis of this.moves.fingers) {
			const duration = this.moves.duration(this.moves.glove.hand.closeSeconds);
			axis.move(start, duration, random.uniform(0.1, 0.9));
			settled = Math.max(settled, start + duration);
		}
		for (const [i, axis] of this.moves.fingers.entries()) {
			axis.move(settled + seconds, this.moves.duration(this.moves.glove.hand.closeSeconds), this.moves.open(i));
		}
		return settled + seconds + 1.7 * this.moves.glove.hand.closeSeconds;
	}

	/** Fingers close around something, keep it as long as asked, and let go of it to a relaxed hand. */
	posture(start: number, seconds: number): number {
		const random = this.moves.random;
		const close = this.moves.glove.hand.closeSeconds;
		const {swayShare, creepPerSecond, together, changeSeconds} = drawPosture(random);
		const size = random.uniform(0.3, 0.85);
		const held = this.moves.fingers.map(() => Math.min(0.9, Math.max(0.1, size + random.normal(0, 0.08))));
		// A finger may give way where the others press.
		const senses = held.map(() => (random.chance(0.15) ? -1 : 1));
		const settled = this.moves.everyFinger(start, close, i => held[i]);
		const end = settled + seconds;

		const common = drawSway(random);
		for (const [i, axis] of this.moves.fingers.entries()) {
			const own = drawSway(random);
			const [shared, alone] = [senses[i] * Math.sqrt(together), Math.sqrt(1 - together)];
			axis.curve(settled, end, t => {
				const ease = minimumJerk((t - settled) / 0.5) * (1 - minimumJerk((t - end + 0.5) / 0.5));
				return swayShare * ease * (shared * common(t) + alone * own(t));
			});
		}

		let change = settled + random.exponential(changeSeconds);
		let t = settled;
		while (t < end) {
			if (t >= change) {
				change = t + random.exponential(changeSeconds);
				const by = random.uniform(...changeShare) * (random.chance(0.5) ? 1 : -1);
				for (const [i, level] of held.entries()) {
					held[i] = Math.min(0.95, Math.max(0.05, level + by * random.uniform(together, 1)));
				}
				t = this.moves.everyFinger(t, close * random.uniform(0.8, 1.6), i => held[i]) + 0.05;
				continue;
			}
			const piece = Math.min(random.uniform(1, 4), Math.max(0.1, end - t));
			const way = creepPerSecond * piece * (random.chance(0.5) ? 1 : -1);
			for (const [i, axis] of this.moves.fingers.entries()) {
				const wanted = axis.level + way * (senses[i] * together + random.normal(0, 1 - together));
				axis.move(t, piece, Math.min(held[i] + creepReach, Math.max(held[i] - creepReach, wanted, 0), 1));
			}
			t += piece;
		}
		const relaxed = random.uniform(...relaxedShare);
		const open = this.moves.everyFinger(
			Math.max(t, end),
			close,
			i => this.moves.open(i) + relaxed * random.uniform(0.7, 1.3),
		);
		return open + random.uniform(0.2, 0.6);
	}

	/** Movements of the whole hand, each finger with its own share of them. */
	together(start: number): number {
		const random = this.moves.random;
		const shares = this.moves.fingers.map(() => random.uniform(0.5, 1));
		let t = start;
		for (let n = random.integer(1, 4); n > 0; n--) {
			const depth = random.uniform(0.3, 1);
			const duration = this.moves.glove.hand.closeSeconds * random.uniform(0.6, 1.3);
			t = this.moves.everyFinger(t, duration, i => shares[i] * depth * this.moves.depth(undefined));
			t =
				this.moves.everyFinger(t + random.uniform(0, 0.3), duration, i => this.moves.open(i)) +
				random.uniform(0.05, 0.4);
		}
		return t;
	}

	/** Each finger as it likes, for a few seconds. */
	freely(start: number): number {
		const random = this.moves.random;
		const close = this.moves.glove.hand.closeSeconds;
		const until = start + random.uniform(1.5, 4);
		let last = until;
		for (const [i, axis] of this.moves.fingers.entries()) {
			let at = start + random.uniform(0, 0.5);
			while (at < until) {
				const duration = this.moves.duration(close * random.uniform(0.6, 1.4));
				axis.move(at, duration, random.chance(0.4) ? this.moves.open(i) : random.uniform(0.05, 0.9));
				at += duration + random.exponential(0.3);
			}
			axis.move(at, close, this.moves.open(i));
			last = Math.max(last, at + close);
		}
		return last + random.uniform(0, 0.5);
	}
}
