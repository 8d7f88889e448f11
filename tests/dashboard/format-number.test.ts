import {describe, expect, it} from 'vitest';
import {
	formatBytes,
	formatCounts,
	formatMilliseconds,
	formatPercent,
	formatRate,
	formatSpan,
	formatTime,
} from '../../source/dashboard/format-number.ts';

describe('formatTime', () => {
	it('gives minutes and seconds, hours where there are any', () => {
		expect(formatTime(7.9)).toBe('0:07');
		expect(formatTime(723)).toBe('12:03');
		expect(formatTime(3723)).toBe('1:02:03');
	});

	it('cuts decimals instead of rounding into the next second', () => {
		expect(formatTime(59.999, 1)).toBe('0:59.9');
		expect(formatTime(0.3, 1)).toBe('0:00.3');
		expect(formatTime(-1.5, 1)).toBe('-0:01.5');
	});

	it('shows a dash for what is not known', () => {
		expect(formatTime(null)).toBe('–');
		expect(formatTime(Number.NaN)).toBe('–');
	});
});

describe('numbers', () => {
	it('have as many digits as matter', () => {
		expect(formatMilliseconds(0.345)).toBe('0.34 ms');
		expect(formatMilliseconds(8.24)).toBe('8.2 ms');
		expect(formatMilliseconds(1340)).toBe('1.3 s');
		expect(formatRate(19.96)).toBe('20.0');
		expect(formatRate(99.7)).toBe('100');
		expect(formatCounts(512)).toBe('512');
		expect(formatCounts(51.25)).toBe('51.3');
		expect(formatPercent(0.287)).toBe('29 %');
		expect(formatBytes(999)).toBe('999 B');
		expect(formatBytes(8240)).toBe('8.2 kB');
		expect(formatBytes(1_440_000)).toBe('1.4 MB');
		expect(formatSpan(0.5)).toBe('500 ms');
		expect(formatSpan(20)).toBe('20 s');
		expect(formatSpan(600)).toBe('10 min');
	});

	it('are dashes where nothing is known', () => {
		expect([formatMilliseconds(null), formatRate(null), formatCounts(Number.NaN), formatPercent(null)]).toEqual(
			Array(4).fill('–'),
		);
	});
});
