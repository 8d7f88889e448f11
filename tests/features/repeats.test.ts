import {expect, test} from 'vitest';
import {FrameHistory} from '../../source/features/frame-history.ts';
import {Repeats} from '../../source/features/repeats.ts';
import {StateBlock} from '../../source/features/state-block.ts';
import {Random} from '../../source/simulator/random.ts';

/** Takes frames of seven readings, each of which changes by a count with this probability; sends those that `isSent`. */
function sendsOnChange(probability: number, isSent: (changed: number) => boolean, frames = 2000): boolean {
	const random = new Random(5);
	const repeats = new Repeats([0, 1, 2, 3, 4, 5, 6], new StateBlock());
	const history = new FrameHistory(7);
	const values = new Float64Array(7).fill(400);
	for (let n = 0; n < frames; n++) {
		let changed = 0;
		for (let i = 0; i < 7; i++) {
			if (!random.chance(probability)) continue;
			values[i] = 1000 - values[i];
			changed++;
		}
		if (n > 0 && !isSent(changed)) continue;
		history.push(n / 100, values, 30);
		repeats.take(history);
	}
	return repeats.sendsOnChange;
}

test('a board at rest that sends only what has changed is known by it', () => {
	expect(sendsOnChange(0.3, changed => changed > 0)).toBe(true);
});

test.each([0.05, 0.3, 0.6, 0.95])(
	'one that sends all is not taken for it, with or without losses (readings change %f of the time)',
	probability => {
		const random = new Random(9);
		expect(sendsOnChange(probability, () => true)).toBe(false);
		expect(sendsOnChange(probability, () => random.chance(0.9))).toBe(false);
	},
);

test('a hundred frames that differ in one reading alone are waited for', () => {
	expect(sendsOnChange(0.3, changed => changed > 0, 150)).toBe(false);
});
