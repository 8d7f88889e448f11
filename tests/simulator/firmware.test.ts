import {describe, expect, test} from 'vitest';
import {optionTable} from '../../source/command-line/option-table.ts';
import {firmwareWords} from '../../source/simulator/firmware-words.ts';
import {simulationFromOptions} from '../../source/simulator/simulation-from-options.ts';
import {read} from './bench.ts';

const fingers = ['thumb', 'index', 'middle', 'ring', 'little'];

function reading(firmware: string, more: Parameters<typeof simulationFromOptions>[0] = {}) {
	return read(simulationFromOptions({script: 'rest 1s, fist 4x, each 1x', for: 14, ...more, firmware}));
}

/** What firmware that learns makes of raw readings, written down once more: ⌊(v − lo)·FS/(hi − lo)⌋, 0 while lo = hi. */
function learned(raw: readonly number[], fullScale: number): number[] {
	let lo = Infinity;
	let hi = -Infinity;
	return raw.map(value => {
		lo = Math.min(lo, value);
		hi = Math.max(hi, value);
		return hi > lo ? Math.floor(((value - lo) * fullScale) / (hi - lo)) : 0;
	});
}

describe('--firmware', () => {
	test('takes the words that the help lists, and names them where another is given', () => {
		expect(optionTable.firmware.words).toBe(firmwareWords);
		for (const firmware of firmwareWords) expect(() => simulationFromOptions({firmware})).not.toThrow();
		expect(() => simulationFromOptions({firmware: 'clever'})).toThrow(/--firmware.*"clever".*raw, averaged/);
	});

	test('learns: every finger by its lowest and highest reading so far, the stick as it is', () => {
		for (const [board, fullScale] of [
			['avr', 1023],
			['arm-12bit', 4095],
		] as const) {
			const raw = reading('raw', {board});
			const got = reading('learns', {board});
			for (const name of fingers) expect(got.columns[name]).toEqual(learned(raw.columns[name], fullScale));
			expect(got.columns['stick-x']).toEqual(raw.columns['stick-x']);
			// Both rails are touched long before the range is known.
			const early = got.columns.index.slice(0, 60);
			expect([Math.min(...early), Math.max(...early)]).toEqual([0, fullScale]);
		}
	});

	test('learns: begins anew when the board starts again', () => {
		const restart = {fault: ['device-restart@7s']};
		const raw = reading('raw', restart);
		const got = reading('learns', restart);
		const begins = got.times.findIndex((t, i) => i > 0 && t - got.times[i - 1] > 0.3);
		expect(begins).toBeGreaterThan(600);
		for (const name of fingers) {
			expect(got.columns[name].slice(begins)).toEqual(learned(raw.columns[name].slice(begins), 1023));
		}
	});

	test('learns/glitch: one false reading takes most of one finger’s range for good', () => {
		for (const seed of [1, 2, 3, 4, 5, 6]) {
			const raw = reading('raw', {seed});
			const got = reading('learns/glitch', {seed});
			const {
				finger,
				rail,
				reading: at,
			} = simulationFromOptions({seed, firmware: 'learns/glitch'}).glove.firmware.glitch!;
			for (const name of fingers) {
				const values = [...raw.columns[name]];
				if (name === finger) values[at] = rail === 'low' ? 0 : 1023;
				expect(got.columns[name]).toEqual(learned(values, 1023));
			}
			// From then on it never comes back to that rail.
			const later = got.columns[finger].slice(100);
			if (rail === 'low') expect(Math.min(...later)).toBeGreaterThan(0);
			else expect(Math.max(...later)).toBeLessThan(1023);
			expect(Math.max(...later) - Math.min(...later)).toBeLessThan(950);
		}
	});

	test('learns/smoothed: sends less than half of the jumps at rest', () => {
		const jumps = (firmware: string): number => {
			const {columns} = reading(firmware, {script: 'rest 1s', for: 10, board: 'arm-12bit'});
			const values = columns.index;
			return values.filter((value, i) => i > 0 && Math.abs(value - values[i - 1]) > 0.4 * 4095).length;
		};
		expect(jumps('learns')).toBeGreaterThan(30);
		expect(jumps('learns/smoothed')).toBeLessThan(jumps('learns') / 2);
	});

	test('averaged: means with decimals; scaled: both rails are reached by every finger', () => {
		expect(new Set(reading('averaged').columns.index.map(value => value % 1)).size).toBeGreaterThan(1);
		const {columns} = reading('scaled');
		for (const name of fingers) expect([Math.min(...columns[name]), Math.max(...columns[name])]).toEqual([0, 1023]);
	});

	test('the glove and the hand stay the same under every program', () => {
		const gloves = firmwareWords.map(firmware => ({
			...simulationFromOptions({seed: 8, firmware}).glove,
			firmware: null,
		}));
		// A mean of four readings needs a faster converter.
		const plain = gloves.map(glove => ({...glove, board: glove.board.family}));
		for (const glove of plain) expect(glove).toEqual(plain[0]);
	});
});
