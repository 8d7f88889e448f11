import type {Random} from '../../../source/simulator/random.ts';

export const fiveFingers = ['thumb', 'index', 'middle', 'ring', 'little'] as const;

/** How one finger's reel turns closing into a share of the converter's scale. */
export type Reel = {
	readonly open: number;
	readonly span: number;
	/** −1 where the reading falls as the finger closes. */
	readonly direction: 1 | -1;
	/** Bend of the path from closing to level: 0 is straight. */
	readonly curve: number;
};

export type Glove = {
	readonly fullScale: number;
	readonly noiseCounts: number;
	/** Frames a second. */
	readonly rate: number;
	readonly fingers: readonly string[];
	readonly reels: readonly Reel[];
	readonly stick: {readonly x: number; readonly y: number; readonly reach: number} | null;
	readonly buttons: number;
	/** What a button says that nobody presses. */
	readonly idle: 0 | 1;
	/** Share of a finger's way that drags its neighbour along. */
	readonly drag: number;
};

export type GloveWishes = {
	readonly board?: 'avr' | 'esp';
	readonly rates?: readonly number[];
	/** Of the fingers other than the thumb, shares of full scale. */
	readonly span?: readonly [low: number, high: number];
	readonly thumb?: readonly [low: number, high: number];
	readonly fingers?: readonly string[];
	readonly stick?: boolean;
	readonly buttons?: number;
	readonly noiseCounts?: number;
	readonly inverted?: boolean;
	readonly curve?: number;
	readonly drag?: number;
	readonly open?: readonly [low: number, high: number];
};

/** Frames a second that builders' firmware gives. */
export const usualRates = [20, 33, 50, 100, 200] as const;

/** Where noise between neighbouring frames counts (check-values D5.2). */
export const quickRates = [50, 100, 200] as const;

/**
 * A glove as builders make them. Noise: 0.35 to 0.9 counts of 10 bit, 5 to 14 of 12 bit (check-values K1 and docs/faults.md's
 * cases). Thumbs travel 0.6 to 0.85 of the others.
 */
export function drawGlove(random: Random, wishes: GloveWishes = {}): Glove {
	const board = wishes.board ?? random.pick(['avr', 'esp'] as const);
	const fingers = wishes.fingers ?? fiveFingers;
	const [low, high] = wishes.span ?? [0.34, 0.6];
	// All reels of a glove are of one make: their travels differ, but not by more than half.
	const middle = random.logUniform(low * 1.15, high / 1.15);
	const inverted = wishes.inverted ?? random.chance(0.2);
	const curve = wishes.curve ?? 0.1;
	const reels = fingers.map((finger): Reel => {
		const short = finger === 'thumb' ? random.uniform(...(wishes.thumb ?? [0.6, 0.85])) : 1;
		const span = middle * random.uniform(1 / 1.15, 1.15) * short;
		const room = Math.min(0.3, 0.93 - span);
		const [least, most] = wishes.open ?? [Math.min(0.08, room / 2), room];
		const open = random.uniform(least, most);
		return {
			open: inverted ? 1 - open : open,
			span,
			direction: inverted ? -1 : 1,
			curve: random.uniform(-curve, curve),
		};
	});
	const centre = (): number => 0.5 + random.uniform(-0.035, 0.035);
	const stick =
		(wishes.stick ?? random.chance(0.7)) ? {x: centre(), y: centre(), reach: random.uniform(0.9, 0.99)} : null;
	return {
		fullScale: board === 'esp' ? 4095 : 1023,
		noiseCounts: wishes.noiseCounts ?? (board === 'esp' ? random.uniform(5, 14) : random.uniform(0.35, 0.9)),
		rate: random.pick(wishes.rates ?? usualRates),
		fingers,
		reels,
		stick,
		buttons: wishes.buttons ?? random.integer(0, 3),
		idle: random.pick([0, 1] as const),
		drag: wishes.drag ?? random.uniform(0.05, 0.2),
	};
}

/** Level of a reel at closing `a`, share of the converter's scale. */
export function levelOf({open, span, direction, curve}: Reel, a: number): number {
	return open + direction * span * (a + curve * a * (1 - a));
}
