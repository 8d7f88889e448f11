import FFT from 'fft.js';
import {mean, standardDeviation} from 'simple-statistics';
import {describe, expect, test} from 'vitest';
import {aliasOf, humShows} from '../../source/simulator/faults/alias.ts';
import {playSimulation, simulate} from '../../source/simulator/simulate.ts';
import {benchSpec, between, fullScale, range, read} from './bench.ts';

describe('simulate', () => {
	test('gives other bytes for another seed', () => {
		const one = read(benchSpec([], {seconds: 3}));
		const other = read({...benchSpec([], {seconds: 3}), seed: 99});
		expect(Buffer.from(one.bytes).equals(Buffer.from(other.bytes))).toBe(false);
	});

	test('plays the same items piece by piece', () => {
		const spec = benchSpec([], {seconds: 4});
		expect([...playSimulation(spec)].flat()).toEqual(simulate(spec).items);
	});

	test('sends as many frames a second as the board aims at', () => {
		for (const rate of [20, 60, 250]) {
			const reading = read(benchSpec([], {seconds: 10, stream: {rate}, link: {baud: 500000}}));
			expect(Math.abs(reading.times.length / 10 - rate)).toBeLessThan(0.01 * rate + 0.2);
		}
	});

	test('a fault changes nothing but what it touches', () => {
		const sound = read(benchSpec([]));
		const faulty = read(benchSpec([{code: 'excess-noise', channel: 'ring', severity: 0.5, variant: 'white'}]));
		for (const name of ['thumb', 'index', 'middle', 'little', 'stick-x', 'button-1']) {
			expect(faulty.columns[name]).toEqual(sound.columns[name]);
		}
		expect(faulty.times).toHaveLength(sound.times.length);
	});

	test('a fault keeps to its stretches of time', () => {
		const windows = [
			[2, 4],
			[8, 9],
		] as const;
		const sound = read(benchSpec([]));
		const faulty = read(benchSpec([{code: 'stuck-low', channel: 'ring', variant: 'shorted-to-ground', windows}]));
		expect(Math.max(...between(faulty, 'ring', 2.05, 3.95))).toBeLessThan(5);
		expect(Math.max(...between(faulty, 'ring', 8.05, 8.95))).toBeLessThan(5);
		for (const [from, to] of [
			[0, 1.95],
			[4.05, 7.95],
			[9.05, 20],
		]) {
			expect(between(faulty, 'ring', from, to)).toEqual(between(sound, 'ring', from, to));
		}
	});

	test('knows the range of every finger as sent, within the noise', () => {
		const reading = read(benchSpec([], {seconds: 40}));
		for (const {name, low, high} of reading.truth.ranges) {
			const values = reading.columns[name];
			// The truth leaves out friction (up to 2.5 % of travel), scatter of the open hand and the converter's noise.
			const slack = 0.05 * (high - low) + 4;
			expect(Math.min(...values)).toBeGreaterThan(low - slack);
			expect(Math.max(...values)).toBeLessThan(high + slack);
			expect(range(values)).toBeGreaterThan(0.85 * (high - low));
		}
	});

	test('counters wrap at their modulus, and a one-byte counter does so often', () => {
		const reading = read(benchSpec([], {seconds: 12, stream: {counter: 256}}));
		const {counter} = reading.columns;
		for (let i = 1; i < counter.length; i++) expect(counter[i]).toBe((counter[i - 1] + 1) % 256);
		expect(counter.filter(value => value === 0).length).toBeGreaterThanOrEqual(4);
	});

	test('the clock column keeps time with the arrivals, in its own steps', () => {
		const reading = read(benchSpec([], {seconds: 12, stream: {clock: 'ms'}}));
		const {clock} = reading.columns;
		const passed = reading.times[reading.times.length - 1] - reading.times[0];
		expect(Math.abs((clock[clock.length - 1] - clock[0]) / 1000 - passed)).toBeLessThan(0.01);
		// An AVR's timer ticks every 1.024 ms (check-values U20): intervals of 10 ms read 10, now and then 9 or 11.
		const steps = new Set(clock.slice(1).map((ms, i) => ms - clock[i]));
		expect([...steps].every(step => step >= 9 && step <= 11)).toBe(true);
		expect(steps.size).toBeGreaterThan(1);
	});

	test('a resting finger is as quiet as board and hand make it', () => {
		const reading = read(
			benchSpec([], {
				change: glove => ({
					...glove,
					board: {...glove.board, noiseRmsCounts: 0.8, noiseTail: 0},
					hand: {...glove.hand, tremorShare: 0, swayShare: 0},
				}),
			}),
		);
		const deviation = standardDeviation(between(reading, 'ring', 0.5, 5.5));
		// Board noise and rounding add up: √(0.8² + 1/12) = 0.850 counts (check-values N1).
		expect(Math.abs(deviation - 0.85)).toBeLessThan(0.1);
	});

	test('a line at baud B brings B/10 bytes a second and no more', () => {
		const reading = read(benchSpec([], {seconds: 10, stream: {rate: 100}, link: {baud: 9600}}));
		// check-values U1: ten bit times per byte.
		expect(reading.bytes.length / 10).toBeLessThanOrEqual(960);
		expect(reading.bytes.length / 10).toBeGreaterThan(900);
	});

	test('starts in the middle of a line where told to', () => {
		const whole = read(benchSpec([], {seconds: 2}));
		const cut = read(benchSpec([], {seconds: 2, start: 'mid-line'}));
		expect(cut.lines[0].length).toBeLessThan(whole.lines[0].length);
		expect(cut.lines[1].split(',')).toHaveLength(9);
	});

	test('an ESP32 that starts says so before its first frame', () => {
		const reading = read(benchSpec([], {seconds: 4, start: 'boot', glove: {board: 'esp32'}}));
		const first = reading.lines.findIndex(line => /^\d+(,\d+){8}$/.test(line));
		// Shape: check-values S14.
		expect(reading.lines.slice(0, first).join('\n')).toMatch(/ets J[\s\S]*rst:0x1 \(POWERON_RESET\)[\s\S]*entry 0x/);
	});
});

describe('hum', () => {
	test('appears at the alias frequency of the published table', () => {
		// check-values N8.
		const rates = [20, 25, 30, 40, 50, 60, 64, 75, 80, 90, 100, 120, 125, 200];
		expect(rates.map(rate => aliasOf(50, rate))).toEqual([10, 0, 10, 10, 0, 10, 14, 25, 30, 40, 50, 50, 50, 50]);
		expect(rates.map(rate => aliasOf(60, rate))).toEqual([0, 10, 0, 20, 10, 0, 4, 15, 20, 30, 40, 60, 60, 60]);
		expect(humShows(50, 100)).toBe(false);
		expect(humShows(50, 25)).toBe(false);
		expect(humShows(50, 90)).toBe(true);
	});

	test('in the stream peaks in the bin of its alias, by an independent Fourier transform', () => {
		for (const [hertz, rate, alias] of [
			[50, 64, 14],
			[60, 64, 4],
			[60, 80, 20],
			[50, 75, 25],
		]) {
			const fault = {code: 'mains-hum', channel: 'index', severity: 0.3, variant: String(hertz)};
			const reading = read(
				benchSpec([fault], {stream: {rate}, link: {senderJitter: 0}, script: 'rest 30s', seconds: 9}),
			);
			const size = 512;
			const fft = new FFT(size);
			const level = mean(reading.columns.index.slice(0, size));
			const out = fft.createComplexArray();
			fft.realTransform(
				out,
				reading.columns.index.slice(0, size).map(value => value - level),
			);
			let strongest = 1;
			const power = (bin: number): number => out[2 * bin] ** 2 + out[2 * bin + 1] ** 2;
			for (let bin = 2; bin < size / 2; bin++) if (power(bin) > power(strongest)) strongest = bin;
			expect(Math.abs((strongest * rate) / size - alias)).toBeLessThan((1.5 * rate) / size);
			// The fault puts 1.5–8 % of full scale there.
			expect((2 * Math.sqrt(power(strongest))) / size / fullScale).toBeGreaterThan(0.01);
		}
	});
});
