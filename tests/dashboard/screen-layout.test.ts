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
	it('shares out exactly the room there is, at every size, with and without something to do', () => {
		for (const doFirst of [undefined, {least: 4, most: 13}]) {
			for (const used of [false, true]) {
				for (let width = 59; width <= 199; width += 7) {
					for (let height = 10; height <= 55; height++) {
						const panels = layoutOverview(width, height, healthy, doFirst, used);
						const {channelRows, stickLines, doFirstHeight, ruleHeight, lowerHeight} = panels;
						expect(1 + channelRows + stickLines + doFirstHeight + ruleHeight + lowerHeight).toBe(height);
						expect(panels.leftWidth + panels.rightWidth).toBe(width);
						expect(panels.stickHeight + panels.buttonRows).toBeLessThanOrEqual(lowerHeight);
						if (doFirst !== undefined && height >= 14) expect(doFirstHeight).toBeGreaterThan(doFirst.least);
					}
				}
			}
		}
	});

	it('gives the trend what nothing else needs at 80 x 24, and what there is to do before it', () => {
		const calm = layoutOverview(79, 20, healthy, undefined, false);
		expect(calm).toMatchObject({channelRows: 5, stickLines: 2, doFirstHeight: 0, stickHeight: 0, trendHeight: 11});
		expect(layoutOverview(79, 20, healthy, {least: 4, most: 13}, false)).toMatchObject({
			doFirstHeight: 5,
			trendHeight: 6,
		});
		// Where a trend has no room, its rows go to what there is to do.
		expect(layoutOverview(79, 20, healthy, {least: 8, most: 13}, false)).toMatchObject({
			doFirstHeight: 12,
			trendHeight: 0,
		});
	});

	it('lets the stick grow into its field when it is used, and on a large screen always', () => {
		expect(layoutOverview(79, 20, healthy, undefined, true).stickHeight).toBeGreaterThanOrEqual(6);
		const large = layoutOverview(139, 40, healthy, undefined, false);
		expect(large.stickHeight).toBeGreaterThanOrEqual(9);
		expect(large.buttonRows).toBe(3);
	});
});
