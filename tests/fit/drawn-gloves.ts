import {fitSettings} from '../../source/fit/fit.ts';
import type {FitResult} from '../../source/fit/fit-result.ts';
import type {GloveSpec} from '../../source/simulator/glove.ts';
import {Random} from '../../source/simulator/random.ts';
import {drawGlove} from '../../source/simulator/random-glove.ts';
import {type SimulationSpec, simulate, type Truth} from '../../source/simulator/simulate.ts';
import {declaredBy, gatherItems, quietRanges, simulation} from './simulated.ts';

const script = 'rest 2s, fist 5x, each 1x, stick around 2x, stick sides 2x, rest 1s';
const rates = [30, 60, 100, 200];

/** A glove that was drawn, what is known of it, and what `fit` makes of its stream. */
export type FittedGlove = {
	readonly glove: GloveSpec;
	readonly spec: SimulationSpec;
	readonly truth: Truth;
	readonly result: FitResult;
};

/** Fits one drawn glove, whatever its board, firmware, hand and direction. */
export function fitDrawn(seed: number): FittedGlove {
	const glove = drawGlove(new Random(seed * 7919), {stick: true});
	const spec = simulation(seed, glove, script, {rate: rates[seed % 4]});
	const {items, truth} = simulate(spec);
	const {session, gathered} = gatherItems(items, declaredBy(truth));
	return {glove, spec, truth, result: fitSettings(session, gathered)};
}

/** Of every finger, the error of the worse end against the readings really used, % of full scale. */
export function rangeErrors({spec, truth, result}: FittedGlove): {readonly name: string; readonly percentFs: number}[] {
	const ranges = quietRanges(spec);
	return result.fingers.map(({name, low, high}) => {
		const used = ranges.get(name)!;
		const error = Math.max(Math.abs(low - used.low), Math.abs(high - used.high));
		return {name, percentFs: (100 * error) / truth.outputFullScale};
	});
}

/** Error of the stick's centre, the worse axis, % of full scale; undefined where it was refused. */
export function centreError({truth, result}: FittedGlove): number | undefined {
	if (result.stick === null) return undefined;
	const [x, y] = truth.stickCentre!;
	const error = Math.max(Math.abs(result.stick.x.centre - x), Math.abs(result.stick.y.centre - y));
	return (100 * error) / truth.outputFullScale;
}

/** Fingers that `fit` would turn the wrong way. */
export function wrongFlips({glove, result}: FittedGlove): string[] {
	const isRight = (name: string, flip: boolean | null) =>
		flip === glove.fingers.find(finger => finger.name === name)!.direction < 0;
	return result.fingers.filter(({name, flip}) => !isRight(name, flip)).map(({name}) => name);
}
