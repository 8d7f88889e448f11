import {describe, expect, it} from 'vitest';
import {fitCopy} from '../../source/faults/fit-copy.ts';
import {FrameHistory} from '../../source/features/frame-history.ts';

/** A source and its copy at 0.6 of it plus 100, 100 frames a second; `missing` says which readings are not there. */
function history(missing: (frame: number) => boolean): FrameHistory {
	const kept = new FrameHistory(2);
	for (let frame = 0; frame < 300; frame++) {
		const source = 500 + 400 * Math.sin(frame / 20);
		kept.push(frame / 100, Float64Array.of(source, missing(frame) ? Number.NaN : 100 + 0.6 * source), 10);
	}

	return kept;
}

describe('the fit of a copy', () => {
	it('finds gain and lag of an exact copy', () => {
		const copy = fitCopy(
			history(() => false),
			0,
			1,
			0,
		);
		expect(copy?.gain).toBeCloseTo(0.6, 9);
		expect(copy?.lagSeconds).toBeCloseTo(0, 9);
		expect(copy?.residual).toBeCloseTo(0, 9);
	});

	// Found by fuzzing: the figures were no numbers then, which no comparison with a limit refused.
	it('is the same where readings are missing, and none where too few are left', () => {
		const copy = fitCopy(
			history(frame => frame % 40 === 9),
			0,
			1,
			0,
		);
		expect(copy?.gain).toBeCloseTo(0.6, 9);
		expect(copy?.residual).toBeCloseTo(0, 9);
		expect(
			fitCopy(
				history(frame => frame % 20 !== 9),
				0,
				1,
				0,
			),
		).toBeUndefined();
	});
});
