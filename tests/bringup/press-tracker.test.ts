import {describe, expect, it} from 'vitest';
import {PressTracker} from '../../source/bringup/press-tracker.ts';

/** Presses seen in a row of levels at a frame rate; the first 20 frames are the rest step's. */
function presses(levels: readonly number[], framesPerSecond: number): number {
	const tracker = new PressTracker(7);
	for (const [i, level] of levels.entries()) tracker.push(i / framesPerSecond, level, i < 20);
	return tracker.presses;
}

const idle = (frames: number) => new Array<number>(frames).fill(1);
const down = (frames: number) => new Array<number>(frames).fill(0);

describe('PressTracker', () => {
	it('counts presses once they are let go, whichever level is idle', () => {
		expect(presses([...idle(30), ...down(10), ...idle(20), ...down(12), ...idle(5)], 100)).toBe(2);
		expect(presses([...down(30), ...idle(10), ...down(20), ...idle(12), ...down(5)], 100)).toBe(2);
		expect(presses([...idle(30), ...down(10)], 100)).toBe(0);
	});

	it('takes bounce for part of the press', () => {
		expect(presses([...idle(60), 0, 1, 0, 1, ...down(40), 1, 0, ...idle(60)], 400)).toBe(1);
	});

	it('sees a tap of two frames at 30 frames/s', () => {
		expect(presses([...idle(30), 0, 0, ...idle(10)], 30)).toBe(1);
	});

	it('counts nothing on a pin that toggles by itself', () => {
		const toggling = Array.from({length: 400}, (_, i) => (i >> 2) & 1);
		expect(presses([...idle(30), ...toggling], 100)).toBeLessThanOrEqual(6);
		const tracker = new PressTracker(0);
		for (const [i, level] of toggling.entries()) tracker.push(i / 100, level, false);
		expect(tracker.isFloating(4)).toBe(true);
	});
});
