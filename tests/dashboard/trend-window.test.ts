import {describe, expect, it} from 'vitest';
import {trendWindow} from '../../source/dashboard/trend-window.ts';

describe('trendWindow', () => {
	it('moves on by quarters, so that the picture stands still in between', () => {
		expect(trendWindow(0, 20, null)).toEqual({from: 0, to: 20});
		expect(trendWindow(19.9, 20, null)).toEqual({from: 0, to: 20});
		expect(trendWindow(20, 20, null)).toEqual({from: 5, to: 25});
		expect(trendWindow(24.9, 20, null)).toEqual({from: 5, to: 25});
	});

	it('stays where it was moved to', () => {
		expect(trendWindow(100, 20, 50)).toEqual({from: 30, to: 50});
	});
});
