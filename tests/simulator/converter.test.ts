import {mean, standardDeviation} from 'simple-statistics';
import {describe, expect, test} from 'vitest';
import {boards} from '../../source/simulator/boards.ts';
import {Converter} from '../../source/simulator/converter.ts';
import {Random} from '../../source/simulator/random.ts';

const silentBoard = {...boards.avr, noiseRmsCounts: 0, noiseTail: 0};

describe('Converter', () => {
	test('gives the codes of the data sheet formula', () => {
		// code = floor(V·1024/V_ref), V_ref = 5 V (check-values A4).
		const converter = new Converter(silentBoard, 1, new Random(1));
		expect([1, 2.5, 3.3].map(volts => converter.read(volts / 5))).toEqual([204, 512, 675]);
		expect([0, 1].map(share => converter.read(share))).toEqual([0, 1023]);
	});

	test('its quantisation noise is LSB/√12', () => {
		// check-values N1: 0.2886751345948129 LSB rms. A ramp covers each step evenly; floor() adds half a step of offset.
		const converter = new Converter(silentBoard, 1, new Random(1));
		const errors: number[] = [];
		for (let share = 0.1; share < 0.9; share += 0.000_013_7) errors.push(converter.read(share) - share * 1024);
		expect(standardDeviation(errors)).toBeCloseTo(0.2886751, 3);
		expect(mean(errors)).toBeCloseTo(-0.5, 2);
	});

	test('its own noise has the size the board says, and averaging four readings halves it', () => {
		const board = {...boards['arm-12bit'], noiseRmsCounts: 5, noiseTail: 0};
		for (const [averageOf, wanted] of [
			[1, 5],
			[4, 2.5],
			[16, 1.25],
		]) {
			const converter = new Converter(board, averageOf, new Random(2));
			const values = Array.from({length: 20000}, () => converter.read(0.4321));
			// Quantisation adds 1/12 of a count² to each reading.
			expect(Math.abs(standardDeviation(values) - wanted)).toBeLessThan(0.08 * wanted + 0.03);
		}
	});

	test('a board that skips codes never shows every ninth and shows all others', () => {
		const board = {...boards['esp32-skips'], noiseRmsCounts: 0, noiseTail: 0};
		const converter = new Converter(board, 1, new Random(1));
		const seen = new Set<number>();
		for (let share = 0.2; share < 0.8; share += 0.000_05) seen.add(converter.read(share));
		const [low, high] = [Math.min(...seen), Math.max(...seen)];
		const missing = Array.from({length: high - low}, (_, i) => low + i).filter(code => !seen.has(code));
		expect(missing.length / (high - low)).toBeCloseTo(1 / 9, 2);
		expect(missing.slice(1).every((code, i) => code - missing[i] === 9)).toBe(true);
	});

	test('an ESP32 reads 0 and full scale over the dead ends of its input range', () => {
		const board = {...boards.esp32, noiseRmsCounts: 0, noiseTail: 0};
		const converter = new Converter(board, 1, new Random(1));
		expect([0.01, 0.03, 0.97, 0.99].map(share => converter.read(share))).toEqual([0, 0, 4095, 4095]);
		expect(converter.read(0.5)).toBeGreaterThan(1900);
	});
});
