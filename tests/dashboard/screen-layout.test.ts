import {describe, expect, it} from 'vitest';
import {layoutOverview, layoutScreen} from '../../source/dashboard/screen-layout.ts';
import {initialViewState} from '../../source/dashboard/view-state.ts';
import {healthy} from './sample-picture.ts';

const one = initialViewState({mode: 'live', gloves: 1});
const two = initialViewState({mode: 'replay', gloves: 2});

describe('layoutScreen', () => {
	it('leaves the last row and column free', () => {
		expect(layoutScreen(80, 24, one)).toMatchObject({width: 79, height: 23, tooSmall: false});
	});

	it('is too small below 60 x 16', () => {
		expect(layoutScreen(60, 16, one).tooSmall).toBe(false);
		expect(layoutScreen(59, 16, one).tooSmall).toBe(true);
		expect(layoutScreen(60, 15, one).tooSmall).toBe(true);
	});

	it('puts two gloves side by side where both fit, else shows the one the keys are for', () => {
		const wide = layoutScreen(140, 45, two);
		expect(wide.shown).toEqual([0, 1]);
		expect(2 * wide.gloveWidth + 1).toBeLessThanOrEqual(wide.width);
		expect(layoutScreen(120, 45, {...two, focus: 1}).shown).toEqual([1]);
	});
});

describe('layoutOverview', () => {
	it('shares out exactly the room there is, at every size', () => {
		for (let width = 59; width <= 199; width += 7) {
			for (let height = 10; height <= 55; height++) {
				const panels = layoutOverview(width, height, healthy);
				const compact = panels.compact ? 1 : 0;
				expect(1 + panels.channelRows + panels.lowerHeight).toBe(height);
				expect(compact + panels.findingsHeight + panels.trendHeight).toBe(panels.lowerHeight);
				expect(panels.leftWidth + panels.rightWidth).toBe(width);
				expect(panels.stickHeight + panels.buttonRows).toBeLessThanOrEqual(panels.lowerHeight);
			}
		}
	});

	it('shows all channels, the stick’s field, buttons, findings and a trend at 80 x 24', () => {
		const panels = layoutOverview(79, 19, healthy);
		expect(panels.channelRows).toBe(5);
		expect(panels.stickHeight).toBeGreaterThanOrEqual(7);
		expect(panels.buttonRows).toBe(3);
		expect(panels.findingsHeight).toBeGreaterThanOrEqual(5);
		expect(panels.trendHeight).toBeGreaterThanOrEqual(6);
	});
});
