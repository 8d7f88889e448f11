import type {ColorDepth} from './look.ts';
import type {Tone} from './rows.ts';

type ColorTone = 'good' | 'failure' | 'out-of-spec' | 'maintenance' | 'function-check';

/**
 * Colours that can be read on black and on white alike: their relative luminance is near 0.18, which gives a contrast
 * of about 4.5:1 with both (WCAG 2.2, 1.4.3).
 */
export const toneColors: Readonly<Record<ColorTone, readonly [red: number, green: number, blue: number]>> = {
	good: [0x07, 0x88, 0x32],
	failure: [0xe1, 0x2b, 0x2b],
	'out-of-spec': [0xbb, 0x5a, 0x05],
	maintenance: [0x24, 0x72, 0xe0],
	'function-check': [0xa7, 0x4f, 0xc4],
};

/** Where a terminal has 16 colours, they are the user's own; yellow and white are left out, being unreadable on white. */
const basicColors: Readonly<Record<ColorTone, number>> = {
	good: 32,
	failure: 31,
	'out-of-spec': 35,
	maintenance: 34,
	'function-check': 36,
};

/** A grey with a contrast of about 4.5:1 with white and with black. */
const faintGrey = 0x76;

/**
 * The SGR parameters of a tone; empty for none. Without colour, bold, inverse and dim remain; the words say the same in
 * any case. What is quiet is not dim: on many terminals that can't be read in daylight. Faint are frames, axes and the
 * dots of scales, which nobody reads.
 */
export function toneStyle(tone: Tone, depth: ColorDepth): string {
	switch (tone) {
		case 'plain':
		case 'quiet':
			return '';
		case 'faint':
			return depth >= 8 ? greyParameters(depth) : '2';
		case 'strong':
			return '1';
		case 'alert':
			return '1;7';
		case 'chosen':
			return '7';
		case 'good':
			return depth === 1 ? '' : colorParameters(tone, depth);
		default:
			return depth === 1 ? '1' : `1;${colorParameters(tone, depth)}`;
	}
}

function greyParameters(depth: ColorDepth): string {
	return depth === 24 ? `38;2;${faintGrey};${faintGrey};${faintGrey}` : '38;5;243';
}

function colorParameters(tone: ColorTone, depth: Exclude<ColorDepth, 1>): string {
	if (depth === 4) return String(basicColors[tone]);
	const rgb = toneColors[tone];
	if (depth === 24) return `38;2;${rgb.join(';')}`;
	// The colour cube of 256-colour terminals: levels 0, 95, 135, 175, 215, 255.
	const [red, green, blue] = rgb.map(level => (level < 48 ? 0 : level < 115 ? 1 : Math.floor((level - 35) / 40)));
	return `38;5;${16 + 36 * red + 6 * green + blue}`;
}
