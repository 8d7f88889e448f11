import {judgeRuler, type RulerFigures, type TaperClass} from '../../source/ruler/ruler-test.ts';
import {mulberry} from '../math/mulberry.ts';

/** Share of the supply at the wiper, for a share of the track. */
export type Pot = (x: number) => number;

/** Two straight halves, `share` of the resistance at half turn (check-values P5). */
export const audio =
	(share: number): Pot =>
	x =>
		x < 0.5 ? 2 * share * x : share + 2 * (1 - share) * (x - 0.5);

export const reverseAudio =
	(share: number): Pot =>
	x =>
		1 - audio(share)(1 - x);

/** A track whose wiper is loaded by a resistance: x / (1 + αx(1 − x)), α = track / load (check-values P7). */
export const loaded =
	(alpha: number): Pot =>
	x =>
		x / (1 + alpha * x * (1 - x));

/** A pull-up left on: the load goes to the supply, the same curve turned round (check-values P9). */
export const pulledUp =
	(alpha: number): Pot =>
	x =>
		1 - loaded(alpha)(1 - x);

/** From half-way on a turn of the spool takes 2 cords' thickness more: readings grow by less. */
export const secondLayer =
	(cordMm: number, spoolMm: number): Pot =>
	x =>
		x < 0.5 ? x : 0.5 + ((x - 0.5) * spoolMm) / (spoolMm + 2 * cordMm);

export const straight: Pot = x => x;

/**
 * A pot at the limit of its independent linearity, ±`percent` of its travel's output: a smooth wave that many such tracks are,
 * two half waves with the one sign and the other (common practice, no source).
 */
export const atItsLimit =
	(percent: number, waves = 1): Pot =>
	x =>
		x + (percent / 100) * Math.sin(2 * Math.PI * waves * x);

/** A standard normal number (Box and Muller 1958). */
export function normal(draw: () => number): number {
	return Math.sqrt(-2 * Math.log(1 - draw())) * Math.cos(2 * Math.PI * draw());
}

type Trial = {
	/** Out and back differ by so much of the way, %. */
	readonly lagPercent?: number;
	/** Standard deviation of a mark, mm. */
	readonly rulerMm?: number;
	/** Share of the track that is kept free at either end. */
	readonly offEnds?: number;
};

const steps = 8;
const stepMm = 5;
const fullScale = 1023;

/** Specification E's trial: 8 steps of 5 mm, ruler ±0.3 mm, 55 to 90 % of the track used, out and back twice. */
export function drawTrial(pot: Pot, draw: () => number, {lagPercent = 0, rulerMm = 0.3, offEnds = 0}: Trial = {}) {
	const used = 0.55 + 0.35 * draw();
	const from = offEnds + (1 - used - 2 * offEnds) * draw();
	const levels: number[] = [];
	const stay = (mark: number, way: 1 | -1): void => {
		const lengthMm = steps * stepMm;
		const mm = stepMm * mark + rulerMm * normal(draw) - (way * lagPercent * (lengthMm / 100)) / 2;
		// Beyond either end of the track the wiper stands at its end.
		const x = Math.min(1, Math.max(0, from + (used * mm) / lengthMm));
		levels.push(fullScale * pot(x) + draw() - 0.5);
	};

	for (let round = 0; round < 2; round++) {
		for (let mark = round === 0 ? 0 : 1; mark <= steps; mark++) stay(mark, 1);
		for (let mark = steps - 1; mark >= 0; mark--) stay(mark, -1);
	}

	return judgeRuler(levels, {stepMm, fullScale, electricalAngleDeg: 270});
}

export type Trials = {
	/** Of those that gave a curve. */
	readonly figures: readonly RulerFigures[];
	/** Why the others did not. */
	readonly refused: readonly string[];
	/** Share of all trials that were called so. */
	readonly called: (taper: TaperClass) => number;
};

export function trials(
	pot: Pot,
	{count = 400, seed = 7, ...trial}: Trial & {count?: number; seed?: number} = {},
): Trials {
	const draw = mulberry(seed);
	const all = Array.from({length: count}, () => drawTrial(pot, draw, trial));
	const figures = all.filter((each): each is RulerFigures => !('reason' in each));
	return {
		figures,
		refused: all.flatMap(each => ('reason' in each ? [each.reason] : [])),
		called: taper => figures.filter(each => each.taper === taper).length / count,
	};
}

/** The value below which so large a share of a list lies. */
export function quantile(values: readonly number[], share: number): number {
	const sorted = [...values].sort((a, b) => a - b);
	return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
}
