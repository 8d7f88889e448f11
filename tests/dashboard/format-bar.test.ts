import {describe, expect, it} from 'vitest';
import {type BarReading, barScale, formatBar} from '../../source/dashboard/format-bar.ts';
import {asciiLook, glyphs} from './sample-picture.ts';

const reading: BarReading = {
	now: 512,
	seenLow: 128,
	seenHigh: 895,
	usableLow: 128,
	usableHigh: 895,
	scaleLow: 0,
	scaleHigh: 1024,
};

describe('formatBar', () => {
	// Worked by hand: 16 columns of 64 counts; 128 is at the start of column 2, 512 of column 8, 895 in column 13.
	it('is solid from the low usable end to now, shaded to the high end, dots beyond', () => {
		expect(formatBar(reading, 16, asciiLook.glyphs)).toBe('..[#####|====]..');
		expect(formatBar(reading, 16, glyphs)).toBe('··[█████▏░░░░]··');
	});

	it('shows an eighth of a column', () => {
		// 512 + 40 = 552: five eighths into column 8.
		expect(formatBar({...reading, now: 552}, 16, glyphs)[8]).toBe('▋');
	});

	it('shows lone glitches as shading outside the brackets', () => {
		expect(formatBar({...reading, seenLow: 0, seenHigh: 1023}, 16, glyphs)).toBe('░░[█████▏░░░░]░░');
	});

	it('shows a reading outside the usable range where it is', () => {
		expect(formatBar({...reading, now: 32, seenLow: 32}, 16, glyphs)).toBe('▌░[░░░░░░░░░░]··');
	});

	it('is all dots before the first frame', () => {
		const nothing = {...reading, now: Number.NaN, seenLow: Number.NaN, seenHigh: Number.NaN};
		expect(formatBar({...nothing, usableLow: null, usableHigh: null}, 8, glyphs)).toBe('········');
	});

	it('keeps a reading beyond the scale at its end, and its width at any width', () => {
		for (const now of [-500, 0, 1023, 1024, 9999]) {
			for (const width of [1, 2, 7, 80]) expect([...formatBar({...reading, now}, width, glyphs)]).toHaveLength(width);
		}

		expect(formatBar({...reading, now: 9999}, 0, glyphs)).toBe('');
	});
});

describe('barScale', () => {
	it('takes the usual full scale above the readings until the channel’s own is known', () => {
		expect(barScale({fullScale: null, min: 3, max: 1000})).toEqual({low: 0, high: 1023});
		expect(barScale({fullScale: null, min: 3, max: 1024})).toEqual({low: 0, high: 4095});
		expect(barScale({fullScale: 4095, min: 3, max: 50})).toEqual({low: 0, high: 4095});
		expect(barScale({fullScale: null, min: -20, max: 90_000})).toEqual({low: -20, high: 90_000});
	});
});
