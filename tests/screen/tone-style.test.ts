import {describe, expect, it} from 'vitest';
import type {Tone} from '../../source/screen/rows.ts';
import {toneColors, toneStyle} from '../../source/screen/tone-style.ts';

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
			const index = Number(/38;5;(\d+)/.exec(toneStyle(tone, 8))?.[1]) - 16;
			const rgb = [Math.floor(index / 36), Math.floor(index / 6) % 6, index % 6].map(place => levels[place]);
			expect(contrast(rgb, white)).toBeGreaterThanOrEqual(3);
			expect(contrast(rgb, black)).toBeGreaterThanOrEqual(3);
		}
	});
});

describe('toneStyle', () => {
	it('sends no colour where there is none, but keeps weight, inverse and dim', () => {
		const tones: Tone[] = ['plain', 'quiet', 'faint', 'strong', 'alert', 'chosen', 'good', 'failure'];
		expect(tones.map(tone => toneStyle(tone, 1))).toEqual(['', '', '2', '1', '1;7', '7', '', '1']);
	});

	it('takes the terminal’s own red where there are 16 colours', () => {
		expect(toneStyle('failure', 4)).toBe('1;31');
	});

	it('draws what is faint in a grey of 4.5:1 on black and on white where the terminal has one', () => {
		const grey = toneStyle('faint', 24).split(';').slice(2).map(Number);
		expect(Math.min(contrast(grey, white), contrast(grey, black))).toBeGreaterThanOrEqual(4.5);
		// 243 is the grey of level 118 in xterm's ramp: 8 + 10 × (243 − 232).
		expect(toneStyle('faint', 8)).toBe('38;5;243');
		expect(grey[0]).toBe(8 + 10 * (243 - 232));
	});
});
