import {expect, test} from 'vitest';
import {fittingRate} from '../../../source/features/link/fitting-rate.ts';

/**
 * What a listener at one rate makes of text sent at another, 8 bits, no parity: each byte is a low start bit, its bits from the
 * lowest on, and a high stop bit; the listener looks at the middle of each of its own bits from a falling edge on.
 */
function heard(text: string, sender: number, listener: number): Uint8Array {
	const levels = [...text].flatMap(letter => {
		const code = letter.charCodeAt(0);
		return [0, ...Array.from({length: 8}, (_, bit) => (code >> bit) & 1), 1];
	});
	const at = (t: number): number => levels[Math.floor(t * sender)] ?? 1;
	const bytes: number[] = [];
	let wasHigh = true;
	for (let t = 0; t < levels.length / sender; ) {
		const isStart = wasHigh && at(t) === 0;
		wasHigh = at(t) === 1;
		if (!isStart) {
			t += 0.02 / listener;
			continue;
		}
		let byte = 0;
		for (let bit = 0; bit < 8; bit++) byte |= at(t + (bit + 1.5) / listener) << bit;
		bytes.push(byte);
		t += 9.5 / listener;
		wasHigh = at(t) === 1;
	}
	return Uint8Array.from(bytes);
}

const line = Array.from({length: 30}, (_, n) => `${512 + n},${498 - n},${301 + 7 * n},77,${640 - 3 * n}\n`).join('');

test.each([
	[57_600, 115_200],
	[38_400, 115_200],
	[9600, 38_400],
	[19_200, 115_200],
	[1200, 9600],
	// Two usual rates lie within a few percent of each other: the nearer one is meant.
	[31_250, 250_000],
	[250_000, 1_000_000],
	[230_400, 460_800],
])('lines sent at %i baud are told from what is heard at %i', (sender, listener) => {
	expect(fittingRate(heard(line, sender, listener), listener)).toBe(sender);
});

test('nothing is told where sender and listener agree, or the listener’s rate is not known', () => {
	expect(fittingRate(heard(line, 115_200, 115_200), 115_200)).toBeUndefined();
	expect(fittingRate(heard(line, 9600, 38_400), null)).toBeUndefined();
});
