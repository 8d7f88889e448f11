import {describe, expect, it} from 'vitest';
import type {Tone} from '../../source/dashboard/rows.ts';
import {styledLine, toneColors, toneSequences} from '../../source/dashboard/tone-style.ts';

/** WCAG 2.2, definitions of relative luminance and contrast ratio. */
function contrast(a: readonly number[], b: readonly number[]): number {
	const luminance = (rgb: readonly number[]) =>
		rgb
			.map(level => level / 255)
			.map(share => (share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4))
			.reduce((sum, share, index) => sum + share * [0.2126, 0.7152, 0.0722][index], 0);
	const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x);
	return (light + 0.05) / (dark + 0.05);
}

const white = [255, 255, 255];
const black = [0, 0, 0];

describe('colours', () => {
	it('reach 4.5:1 on black and on white (WCAG 2.2, success criterion 1.4.3)', () => {
		for (const color of Object.values(toneColors)) {
			expect(contrast(color, white)).toBeGreaterThanOrEqual(4.5);
			expect(contrast(color, black)).toBeGreaterThanOrEqual(4.5);
		}
	});

	it('stay near that on terminals of 256 colours', () => {
		// Levels of the colour cube as xterm defines them.
		const levels = [0, 95, 135, 175, 215, 255];
		for (const tone of Object.keys(toneColors) as Tone[]) {
			const index = Number(/38;5;(\d+)/.exec(toneSequences(tone, 8)[0])?.[1]) - 16;
			const rgb = [Math.floor(index / 36), Math.floor(index / 6) % 6, index % 6].map(place => levels[place]);
			expect(contrast(rgb, white)).toBeGreaterThanOrEqual(3);
			expect(contrast(rgb, black)).toBeGreaterThanOrEqual(3);
		}
	});
});

describe('styledLine', () => {
	it('sends no colour where there is none, but keeps weight and inverse', () => {
		const line = styledLine(
			[
				{text: 'NEW', tone: 'alert'},
				{text: ' ring', tone: 'failure'},
				{text: ' ok', tone: 'good'},
			],
			1,
		);
		expect(line).toBe('\u001B[1m\u001B[7mNEW\u001B[27m\u001B[22m\u001B[1m ring\u001B[22m ok');
	});

	it('takes the terminal’s own red where there are 16 colours', () => {
		expect(styledLine([{text: 'ring', tone: 'failure'}], 4)).toBe('\u001B[1m\u001B[31mring\u001B[39m\u001B[22m');
	});
});
