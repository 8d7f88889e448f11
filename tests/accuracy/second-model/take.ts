import type {Random} from '../../../source/simulator/random.ts';
import {type Glove, levelOf} from './glove.ts';
import {drawUnrest, handUnrest, type Unrest} from './involuntary.ts';
import type {Plan} from './plan.ts';
import {follow} from './strokes.ts';

export type TakeOptions = {
	/** False: the reels lie on a bench, and pulling one cord moves nothing else. */
	readonly hand?: boolean;
	readonly unrest?: Partial<Unrest>;
};

/**
 * One session of one glove, frame by frame. First there are `levels`: what stands at each pin as a share of the
 * converter's scale, without noise. `convert` makes `readings` in counts of it, noise and all, not yet whole numbers.
 * Faults of mechanics and supply are done to the one, those of wires and converter to the other.
 */
export class Take {
	readonly count: number;
	readonly rate: number;
	/** Analog channels in scan order. */
	readonly levels = new Map<string, Float64Array>();
	readonly readings = new Map<string, Float64Array>();
	readonly buttons = new Map<string, Float64Array>();
	/** How far each finger is closed. */
	readonly closings = new Map<string, Float64Array>();

	constructor(
		readonly glove: Glove,
		readonly plan: Plan,
		readonly random: Random,
		options: TakeOptions = {},
	) {
		this.rate = glove.rate;
		this.count = Math.max(1, Math.floor(plan.t * glove.rate));
		this.moveFingers(options);
		this.moveStick();
		this.pressButtons();
	}

	get seconds(): number {
		return this.count / this.rate;
	}

	get names(): string[] {
		return [...this.levels.keys(), ...this.buttons.keys()];
	}

	level(name: string): Float64Array {
		return this.levels.get(name)!;
	}

	reading(name: string): Float64Array {
		return this.readings.get(name)!;
	}

	/** What the converter makes of the levels: counts with its noise. The ESP32's has a tail: one reading in fifty is off by three times as much (common practice, no source). */
	convert(): this {
		const {fullScale, noiseCounts} = this.glove;
		const tail = fullScale > 1023 ? 0.02 : 0;
		for (const [name, level] of this.levels) {
			this.readings.set(
				name,
				level.map(share => {
					const wide = tail > 0 && this.random.chance(tail) ? 3 : 1;
					return share * fullScale + this.random.normal(0, noiseCounts * wide);
				}),
			);
		}
		return this;
	}

	/** Whole numbers within the scale, as a converter gives them. */
	settle(top = this.glove.fullScale): this {
		for (const [name, reading] of this.readings) {
			this.readings.set(
				name,
				reading.map(counts => Math.min(top, Math.max(0, Math.round(counts)))),
			);
		}
		return this;
	}

	private moveFingers({hand = true, unrest = {}}: TakeOptions): void {
		const {glove, plan, count, rate} = this;
		const {fingers, reels} = glove;
		const paths = fingers.map(finger =>
			follow(
				plan.strokes.filter(stroke => stroke.finger === finger).sort((a, b) => a.start - b.start),
				count,
				rate,
			),
		);
		const dragged = hand ? dragAlong(paths, glove, this.random) : paths;
		const leastSpan = Math.min(...reels.map(({span}) => span));
		const unquiet = hand
			? handUnrest(this.random, fingers.length, count, rate, {...drawUnrest(this.random, leastSpan), ...unrest})
			: undefined;
		for (const [i, finger] of fingers.entries()) {
			this.closings.set(finger, dragged[i]);
			this.levels.set(
				finger,
				dragged[i].map((a, k) => levelOf(reels[i], a) + (unquiet ? unquiet[i][k] : 0)),
			);
		}
	}

	private moveStick(): void {
		const {glove, plan, count, rate} = this;
		const {stick} = glove;
		if (stick === null) return;
		const x = new Float64Array(count).fill(stick.x);
		const y = new Float64Array(count).fill(stick.y);
		// A spring brings the stick back to nearly, not quite, the same place: 0.1 to 0.4 % of full scale (common practice, no source).
		const slack = this.random.uniform(0.001, 0.004);
		for (const stretch of plan.stick) {
			const first = Math.ceil(stretch.start * rate);
			const end = Math.min(count, (stretch.start + stretch.seconds) * rate);
			const [offX, offY] = [this.random.normal(0, slack), this.random.normal(0, slack)];
			for (let k = first; k < end; k++) {
				const [sx, sy] = stretch.at(k / rate - stretch.start);
				x[k] = stick.x + 0.5 * stick.reach * sx;
				y[k] = stick.y + 0.5 * stick.reach * sy;
			}
			for (let k = Math.ceil(end); k < count; k++) {
				x[k] = stick.x + offX;
				y[k] = stick.y + offY;
			}
		}
		this.levels.set('stick-x', x);
		this.levels.set('stick-y', y);
	}

	private pressButtons(): void {
		const {glove, plan, count, rate} = this;
		for (let b = 1; b <= glove.buttons; b++) {
			const states = new Float64Array(count).fill(glove.idle);
			for (const {button, start, seconds} of plan.presses) {
				if (button !== b) continue;
				const end = Math.min(count, Math.ceil((start + seconds) * rate));
				for (let k = Math.ceil(start * rate); k < end; k++) states[k] = 1 - glove.idle;
			}
			this.buttons.set(`button-${b}`, states);
		}
	}
}

/**
 * Neighbours follow a finger that is bent further than they are: both of them, by 5 to 30 % (H24), from a few degrees
 * on (H21) and 60 to 140 ms later, never within a frame. The thumb is nearly free (H22).
 */
function dragAlong(paths: readonly Float64Array[], {fingers, drag, rate}: Glove, random: Random): Float64Array[] {
	const late = Math.round(Math.max(2.4, random.uniform(0.06, 0.14) * rate));
	const begins = random.uniform(0.06, 0.1);
	return paths.map((path, i) => {
		const shares = paths.map((_, j) => {
			if (Math.abs(i - j) !== 1) return 0;
			const free = fingers[i] === 'thumb' || fingers[j] === 'thumb';
			return (
				(free ? 0.15 : fingers[i] === 'little' || fingers[j] === 'little' ? 1.4 : 1) * drag * random.uniform(0.7, 1.2)
			);
		});
		return path.map((a, k) => {
			let moved = a;
			for (const [j, share] of shares.entries()) {
				if (share === 0 || k < late) continue;
				const further = paths[j][k - late] - a - begins;
				if (further > 0) moved = Math.max(moved, a + share * further);
			}
			return moved;
		});
	});
}
