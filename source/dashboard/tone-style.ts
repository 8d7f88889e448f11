import type {TextProps} from 'ink';
import type {Tone} from './rows.ts';

type Style = Pick<TextProps, 'color' | 'bold' | 'inverse' | 'dimColor' | 'underline'>;

/**
 * Colours that can be read on black and on white alike: their relative luminance is near 0.18, which gives a contrast
 * of about 4.5:1 with both (WCAG 2.2, 1.4.3). Terminals of 16 colours get the nearest of theirs.
 */
export const toneColors = {
	good: '#078832',
	failure: '#e12b2b',
	'out-of-spec': '#bb5a05',
	maintenance: '#2472e0',
	'function-check': '#a74fc4',
} as const;

/** How a tone looks. Without colour, weight and inverse remain; words and letters say the same in any case. */
export function toneStyle(tone: Tone, color: boolean): Style {
	switch (tone) {
		case 'plain':
		case 'quiet':
			// No dim text: on many terminals it cannot be read in daylight.
			return {};
		case 'strong':
			return {bold: true};
		case 'alert':
			return {bold: true, inverse: true};
		case 'chosen':
			return {inverse: true};
		case 'good':
			return color ? {color: toneColors.good} : {};
		default:
			return color ? {bold: true, color: toneColors[tone]} : {bold: true};
	}
}
