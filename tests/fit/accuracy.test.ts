import {describe, expect, it} from 'vitest';
import {fitSettings} from '../../source/fit/fit.ts';
import {Random} from '../../source/simulator/random.ts';
import {drawGlove} from '../../source/simulator/random-glove.ts';
import {simulate} from '../../source/simulator/simulate.ts';
import {declaredBy, gatherItems, quietRanges, simulation} from './simulated.ts';

const script = 'rest 2s, fist 5x, each 1x, stick around 2x, stick sides 2x, rest 1s';
const rates = [30, 60, 100, 200];

/** Fits one drawn glove, whatever its board, firmware, hand and direction. */
function fitDrawn(seed: number) {
	const glove = drawGlove(new Random(seed * 7919), {stick: true});
	const spec = simulation(seed, glove, script, {rate: rates[seed % 4]});
	const {items, truth} = simulate(spec);
	const {session, gathered} = gatherItems(items, declaredBy(truth));
	return {glove, spec, truth, result: fitSettings(session, gathered)};
}

// Truth: the simulator's own travel without noise, and the stick's built-in rest point.
describe.each([1, 11, 21, 31, 41])('fit on gloves drawn from seed %i and the nine after it', first => {
	const drawn = Array.from({length: 10}, (_, i) => fitDrawn(first + i));

	it('finds every range within 1 % FS of the readings really used', () => {
		for (const {glove, spec, truth, result} of drawn) {
			expect(result.fingers.length, `seed ${spec.seed}`).toBe(glove.fingers.length);
			const ranges = quietRanges(spec);
			for (const finger of result.fingers) {
				const {low, high} = ranges.get(finger.name)!;
				const error = Math.max(Math.abs(finger.low - low), Math.abs(finger.high - high)) / truth.outputFullScale;
				expect(
					error,
					`seed ${spec.seed} ${finger.name}: ${finger.low}…${finger.high}, truth ${low}…${high}`,
				).toBeLessThan(0.01);
			}
		}
	});

	it('finds which way every finger goes', () => {
		for (const {glove, spec, result} of drawn) {
			for (const finger of result.fingers) {
				const built = glove.fingers.find(({name}) => name === finger.name)!;
				expect(finger.flip, `seed ${spec.seed} ${finger.name}`).toBe(built.direction < 0);
			}
		}
	});

	it('finds the centre of the stick within 1 % FS where it was let go often enough', () => {
		let judged = 0;
		for (const {spec, truth, result} of drawn) {
			if (result.stick === null) {
				expect(result.refused.map(({name}) => name)).toContain('stick');
				continue;
			}

			judged++;
			const [x, y] = truth.stickCentre!;
			const error = Math.max(Math.abs(result.stick.x.centre - x), Math.abs(result.stick.y.centre - y));
			expect(error / truth.outputFullScale, `seed ${spec.seed}`).toBeLessThan(0.01);
		}

		expect(judged).toBeGreaterThanOrEqual(7);
	});

	it('tells firmware that scales from firmware that does not', () => {
		for (const {glove, spec, result} of drawn) {
			expect(result.firmware.scales, `seed ${spec.seed}`).toBe(glove.firmware.kind === 'scaled' ? 'yes' : 'no');
			expect(result.firmware.learning, `seed ${spec.seed}`).toBe(glove.firmware.kind === 'scaled' ? 'complete' : null);
		}
	});
});
