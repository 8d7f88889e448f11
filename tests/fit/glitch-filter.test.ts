import {describe, expect, it} from 'vitest';
import {GlitchFilter} from '../../source/fit/glitch-filter.ts';

function filtered(readings: readonly number[], framesPerSecond: number) {
	const passed: number[] = [];
	const filter = new GlitchFilter(({readings, count}) => passed.push(...readings.subarray(0, count)));
	readings.forEach((reading, i) => {
		filter.push(i / framesPerSecond, reading, 1000);
	});
	filter.end();
	return {passed, dropped: filter.dropped};
}

describe('GlitchFilter', () => {
	it('leaves out a jump of three frames that comes back, and counts it', () => {
		expect(filtered([500, 501, 0, 0, 0, 502, 503], 30)).toEqual({passed: [500, 501, 502, 503], dropped: 1});
	});

	it('leaves out a jump of 60 ms, however many frames that is', () => {
		const jump = Array.from({length: 12}, () => 1000);
		expect(filtered([500, ...jump, 500, 500], 200)).toEqual({passed: [500, 500, 500], dropped: 1});
	});

	it('lets a step through that stays, whole and in order', () => {
		const readings = [100, 101, 600, 601, 602, 603, 604, 605, 606, 607];
		expect(filtered(readings, 100)).toEqual({passed: readings, dropped: 0});
	});

	it('lets a quick movement through: a full-span fist at 3.3 Hz and 60 frames/s', () => {
		// 3.3 fists a second is the fastest seen in a grip-and-release norm study.
		const readings = Array.from({length: 120}, (_, i) => 500 - 480 * Math.cos((2 * Math.PI * 3.3 * i) / 60));
		expect(filtered(readings, 60)).toEqual({passed: readings, dropped: 0});
	});

	it('passes over what is no number', () => {
		expect(filtered([500, Number.NaN, 501], 100)).toEqual({passed: [500, 501], dropped: 0});
	});
});
