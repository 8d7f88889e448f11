import type {ColorDepth} from './look.ts';
import type {Row, Tone} from './rows.ts';

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

/** SGR sequences around a text of a tone. Without colour, bold and inverse remain; the words say the same in any case. */
export function toneSequences(tone: Tone, depth: ColorDepth): readonly [before: string, after: string] {
	switch (tone) {
		case 'plain':
		case 'quiet':
			// Not dim: on many terminals that can't be read in daylight.
			return ['', ''];
		case 'strong':
			return ['\u001B[1m', '\u001B[22m'];
		case 'alert':
			return ['\u001B[1m\u001B[7m', '\u001B[27m\u001B[22m'];
		case 'chosen':
			return ['\u001B[7m', '\u001B[27m'];
		case 'good':
			return depth === 1 ? ['', ''] : [`\u001B[${colorParameters(tone, depth)}m`, '\u001B[39m'];
		default:
			return depth === 1
				? ['\u001B[1m', '\u001B[22m']
				: [`\u001B[1m\u001B[${colorParameters(tone, depth)}m`, '\u001B[39m\u001B[22m'];
	}
}

function colorParameters(tone: ColorTone, depth: Exclude<ColorDepth, 1>): string {
	if (depth === 4) return String(basicColors[tone]);
	const rgb = toneColors[tone];
	if (depth === 24) return `38;2;${rgb.join(';')}`;
	// The colour cube of 256-colour terminals: levels 0, 95, 135, 175, 215, 255.
	const [red, green, blue] = rgb.map(level => (level < 48 ? 0 : level < 115 ? 1 : Math.floor((level - 35) / 40)));
	return `38;5;${16 + 36 * red + 6 * green + blue}`;
}

/** A row as text with SGR sequences. */
export function styledLine(pieces: Row, depth: ColorDepth): string {
	let line = '';
	for (const {text, tone = 'plain'} of pieces) {
		const [before, after] = toneSequences(tone, depth);
		line += before + text + after;
	}

	return line;
}
