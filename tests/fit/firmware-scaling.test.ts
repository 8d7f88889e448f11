import {describe, expect, it} from 'vitest';
import {fitSettings} from '../../source/fit/fit.ts';
import {Random} from '../../source/simulator/random.ts';
import {drawGlove} from '../../source/simulator/random-glove.ts';
import {simulate} from '../../source/simulator/simulate.ts';
import {declaredBy, gatherItems, itemsOf, quietRanges, rowsOf, simulation} from './simulated.ts';

/** Firmware that stretches every finger to the scale by what it learned: `learn` gives each finger's range. */
function scaled(
	seed: number,
	script: string,
	learn: (
		rows: readonly number[][],
		ranges: readonly {low: number; high: number; direction: number}[],
	) => {
		low: number;
		high: number;
	}[],
) {
	const glove = drawGlove(new Random(seed), {stick: false, buttonCount: 0, firmware: 'raw', fingerCount: 5});
	const spec = simulation(seed, glove, script, {durationSeconds: 40});
	const {items, truth} = simulate(spec);
	const quiet = quietRanges(spec);
	const rows = rowsOf(items);
	const learned = learn(
		rows,
		glove.fingers.map(({name, direction}) => ({...quiet.get(name)!, direction})),
	);
	const full = truth.outputFullScale;
	const sent = rows.map(row =>
		row.map((reading, i) => {
			const span = Math.max(1, learned[i].high - learned[i].low);
			return Math.round(Math.min(full, Math.max(0, ((reading - learned[i].low) / span) * full)));
		}),
	);
	const {session, gathered} = gatherItems(itemsOf(sent, 100), declaredBy(truth));
	return fitSettings(session, gathered);
}

/** The first `share` of every finger's range, counted from the open hand. */
const part = (share: number) => (_: unknown, ranges: readonly {low: number; high: number; direction: number}[]) =>
	ranges.map(({low, high, direction}) =>
		direction > 0 ? {low, high: low + share * (high - low)} : {low: high - share * (high - low), high},
	);

describe('firmware that scales by itself', () => {
	it.each([3, 4, 5, 6])('that learned nine tenths of the hand has learned enough (seed %i)', seed => {
		const {firmware} = scaled(seed, 'rest 1s, fist 8x, each 1x', part(0.9));
		expect(firmware).toMatchObject({scales: 'yes', learning: 'complete'});
	});

	it.each([3, 4, 5, 6])('that learned half of the hand is told to learn again (seed %i)', seed => {
		const {firmware} = scaled(seed, 'rest 1s, fist 8x, each 1x', part(0.5));
		expect(firmware).toMatchObject({scales: 'yes', learning: 'incomplete'});
		expect(firmware.explanation).toContain('rail at full speed');
		expect(firmware.explanation).toContain('with the glove worn');
	});

	it('that learned while the hand lay still is told to learn again, and its fingers get no range from it', () => {
		const result = scaled(8, 'rest 5s, fist 8x, each 1x', rows =>
			rows[0].map((_, i) => {
				const still = rows.slice(0, 400).map(row => row[i]);
				return {low: Math.min(...still), high: Math.max(...still)};
			}),
		);
		expect(result.firmware).toMatchObject({scales: 'yes', learning: 'incomplete'});
	});

	it('hides the noise of a hand that rests at a rail: none is made up, and no bits of the converter', () => {
		const {fingers, smoothing, refused} = scaled(4, 'rest 3s, fist 8x, each 1x, rest 3s', (_, ranges) =>
			ranges.map(({low, high}) => ({low: low + 0.08 * (high - low), high: high - 0.08 * (high - low)})),
		);
		expect(fingers.map(({restNoise, effectiveBits}) => [restNoise, effectiveBits])).toEqual(
			new Array(5).fill([null, null]),
		);
		expect(smoothing).toBeNull();
		expect(refused.find(({name}) => name === 'smoothing')!.reason).toContain('hold the hand half closed');
	});

	it('is not suspected where the readings end short of the rails', () => {
		const {firmware} = scaled(3, 'rest 1s, fist 5x', (_, ranges) =>
			// Stretched to 10…90 % of the scale.
			ranges.map(({low, high}) => ({low: low - (high - low) / 8, high: high + (high - low) / 8})),
		);
		expect(firmware).toMatchObject({scales: 'no', learning: null});
	});

	it('is not judged on a hand that has not moved', () => {
		const {firmware, refused} = scaled(3, 'rest 60s', (_, ranges) => ranges.map(() => ({low: 0, high: 1023})));
		expect(firmware.scales).toBe('unknown');
		expect(refused.map(({name}) => name)).toEqual(['thumb', 'index', 'middle', 'ring', 'little', 'smoothing']);
	});
});
