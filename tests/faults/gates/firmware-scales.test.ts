import {expect, test} from 'vitest';
import {whyScaled} from '../../../source/faults/gates/firmware-scales.ts';
import {type Course, fists, sessionOver} from '../../gloves/draw.ts';

// An end that several fingers share is the firmware's or the hand's, no pot's (check-values D5.4): what `--why` says of it.

const names = ['thumb', 'index', 'middle', 'ring', 'little'];
/** Fists from 20 % FS to far beyond where the firmware holds each finger: 97.8 % FS are 1000 of 1023. */
const heldAt = (...tops: readonly number[]) => {
	const channels = names.map((name, i) => {
		const fist = fists({open: 20 + i, closed: 110, from: 1 + 0.03 * i, times: 5});
		const course: Course = t => Math.min(tops[i], fist(t));
		return [name, course] as const;
	});
	return sessionOver({channels: Object.fromEntries(channels), seconds: 12, noise: 0}).features;
};

test.each([
	[
		'four others at one reading below full scale',
		[97.8, 97.8, 97.8, 97.8, 97.8],
		'4 other fingers end at one and the same reading below full scale',
	],
	['two others', [97.8, 97.8, 65, 97.8, 70], '2 other fingers end at one and the same reading below full scale'],
	['no two alike', [60, 65, 70, 97.8, 75], undefined],
])('what shows that firmware limits the fingers: %s', (_title, tops, why) => {
	expect(whyScaled(heldAt(...tops), 3)).toBe(why);
});
