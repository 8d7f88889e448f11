import {describe, expect, test} from 'vitest';
import {logOf, stream} from './framer-stream.ts';
import {numbers, record} from './record-framer.ts';

describe('chunks', () => {
	const whole = logOf(stream, []);

	test('gives the same frames cut at every offset', () => {
		for (let cut = 1; cut < stream.length; cut++) expect(logOf(stream, [cut]), `cut at ${cut}`).toEqual(whole);
	});
});

describe('junk', () => {
	test('settles on nothing, whatever the bytes', () => {
		for (let seed = 1; seed <= 20; seed++) {
			const next = numbers(seed);
			const junk = Uint8Array.from({length: 20_000}, () => next(256));
			const {recorder, framer} = record(junk);
			expect(recorder.layouts, `seed ${seed}`).toEqual([]);
			expect(recorder.frames).toEqual([]);
			// Half of all byte values are 0x80 and above, 26 of the others controls: far more than a fifth.
			expect(framer.nonTextBytes / framer.bytesTotal).toBeGreaterThan(0.4);
		}
	});
});
