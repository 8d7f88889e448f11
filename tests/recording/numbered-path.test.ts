import {expect, it} from 'vitest';
import {numberedPath} from '../../source/recording/numbered-path.ts';

it('numbers before the ending, ours or another, and leaves folders and hidden names alone', () => {
	expect(numberedPath('left.gbrec', 1)).toBe('left.gbrec');
	for (const [path, second] of [
		['left.gbrec', 'left-2.gbrec'],
		['left.gbrec.gz', 'left-2.gbrec.gz'],
		['LEFT.GBREC.GZ', 'LEFT-2.GBREC.GZ'],
		['left.gbr', 'left-2.gbr'],
		['left.gz', 'left-2.gz'],
		['left', 'left-2'],
		['night.log', 'night-2.log'],
		['night.log.gz', 'night-2.log.gz'],
		['2026.11.28.gbrec', '2026.11.28-2.gbrec'],
		['gloves.d/left', 'gloves.d/left-2'],
		['gloves.d\\left.txt', 'gloves.d\\left-2.txt'],
		['.left', '.left-2'],
		['./left', './left-2'],
	])
		expect(numberedPath(path, 2), path).toBe(second);
});
