import {mean, sampleCorrelation, standardDeviation} from 'simple-statistics';
import {describe, expect, it} from 'vitest';
import {oneEuro, weightForCornerRc} from '../../source/fit/one-euro.ts';
import {chooseRow, framesTo95, lagSeconds, noiseLeft, smoothingTable} from '../../source/fit/smoothing.ts';
import {Random} from '../../source/simulator/random.ts';

/** First-order noise of unit variance whose neighbours correlate by `correlation`. */
function noise(count: number, correlation: number, seed = 1): number[] {
	const random = new Random(seed);
	let value = random.normal(0, 1);
	return Array.from({length: count}, () => {
		value = correlation * value + Math.sqrt(1 - correlation ** 2) * random.normal(0, 1);
		return value;
	});
}

function smooth(values: readonly number[], weight: number): number[] {
	let state = values[0];
	return values.map(value => (state += weight * (value - state)));
}

describe('first-order filter', () => {
	// Second method: the filter run on noise, measured with simple-statistics.
	it.each([
		[0.5, 0],
		[0.125, 0],
		[0.5, 0.6],
		[0.125, 0.6],
	])('with weight %f leaves of noise with correlation %f what the formula says', (weight, correlation) => {
		const input = noise(200_000, correlation);
		expect(sampleCorrelation(input.slice(1), input.slice(0, -1))).toBeCloseTo(correlation, 1);
		const left = standardDeviation(smooth(input, weight)) / standardDeviation(input);
		expect(left / noiseLeft(weight, correlation)).toBeCloseTo(1, 1);
		expect(Math.abs(left / noiseLeft(weight, correlation) - 1)).toBeLessThan(0.02);
	});

	it.each([0.5, 0.25, 0.0625])('with weight %f lags behind a ramp by what the formula says', weight => {
		const ramp = Array.from({length: 1000}, (_, i) => i / 60);
		const behind = ramp[999] - smooth(ramp, weight)[999];
		expect(behind).toBeCloseTo(lagSeconds(weight, 60), 6);
	});

	it.each([1, 0.75, 0.5, 0.25, 0.0625])('with weight %f has done 95 %% of a step after the frames it says', weight => {
		const step = smooth([0, ...Array.from({length: 100}, () => 1)], weight).slice(1);
		const frames = step.findIndex(value => value >= 0.95 - 1e-12) + 1;
		expect(framesTo95(weight)).toBe(frames);
	});

	it('is recommended as weak as the noise allows, and never beyond 30 ms of lag', () => {
		expect(chooseRow(smoothingTable(0.1, 0, 100), 0.2).weight).toBe(1);
		expect(chooseRow(smoothingTable(0.3, 0, 100), 0.2).weight).toBe(0.5);
		const strongest = chooseRow(smoothingTable(10, 0, 100), 0.2);
		expect(strongest.lagMs).toBeLessThanOrEqual(30);
		expect(strongest.weight).toBe(0.25);
		// At 20 frames/s one frame of lag is 50 ms: no filter at all is better.
		expect(chooseRow(smoothingTable(10, 0, 20), 0.2).weight).toBe(0.75);
	});
});

describe('1€ filter', () => {
	/** The filter as its authors give it (Casiez, Roussel, Vogel, CHI 2012; from memory). */
	function run(values: readonly number[], rate: number, minCutoff: number, beta: number): number[] {
		let state = values[0];
		let speed = 0;
		let before = values[0];
		return values.map(value => {
			speed += weightForCornerRc(1, rate) * ((value - before) * rate - speed);
			before = value;
			state += weightForCornerRc(minCutoff + beta * Math.abs(speed), rate) * (value - state);
			return state;
		});
	}

	it('leaves the noise it says at rest, and lags by 10 ms at the speed it was made for', () => {
		const rate = 100;
		const chosen = oneEuro(0.01, 0, rate, 0.002, 4);
		const rest = run(
			noise(100_000, 0).map(value => 0.01 * value),
			rate,
			chosen.minCutoffHz,
			0,
		);
		expect(Math.abs(mean(rest))).toBeLessThan(0.001);
		expect(standardDeviation(rest) / 0.002).toBeCloseTo(1, 1);
		expect(chosen.restNoise).toBeCloseTo(0.002, 6);
		const ramp = Array.from({length: 400}, (_, i) => (4 * i) / rate);
		const behind = (ramp[399] - run(ramp, rate, chosen.minCutoffHz, chosen.beta)[399]) / 4;
		expect(1000 * behind).toBeCloseTo(10, 1);
		expect(chosen.movingLagMs).toBeCloseTo(10, 6);
	});
});
