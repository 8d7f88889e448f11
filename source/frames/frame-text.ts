import {timeHeading} from './frame-columns.ts';
import type {FrameFormat} from './frame-words.ts';
import {type LineTemplate, templatePlaces} from './line-template.ts';

/** How frames are written as text. */
export type FrameText = {
	/** What comes before the first frame; empty for formats without a head. */
	readonly head: string;
	/** One frame with its end of line: `t` in seconds, values in the order of the columns, NaN where there is none. */
	row(t: number, values: Float64Array): string;
};

/** Microseconds: what a recording keeps. */
const timeDigits = 6;

/**
 * Frames as text of a format, or of a template. Headings are made of letters, digits, points and hyphens (`nameFromLabel`),
 * and values are numbers: neither ever needs the quotes of RFC 4180.
 *
 * @param stamp Seconds before lines of the formats that have no column for them.
 */
export function frameText(format: FrameFormat | LineTemplate, headings: readonly string[], stamp: boolean): FrameText {
	if (typeof format !== 'string') return templateText(format, headings);
	const stamped = (t: number): string => (stamp ? `${t.toFixed(timeDigits)} ` : '');
	switch (format) {
		case 'csv':
			// RFC 4180 ends lines with CR LF; all that reads CSV takes LF as well, and so do other tools of a shell.
			return tableText(',', headings);
		case 'tsv':
			return tableText('\t', headings);
		case 'ndjson': {
			const keys = headings.map(heading => `,${JSON.stringify(heading)}:`);
			return {
				head: '',
				row(t, values) {
					let text = `{"${timeHeading}":${Number(t.toFixed(timeDigits))}`;
					for (let i = 0; i < keys.length; i++) text += keys[i] + (Number.isFinite(values[i]) ? values[i] : 'null');
					return `${text}}\n`;
				},
			};
		}

		case 'comma':
			return {head: '', row: (t, values) => `${stamped(t)}${joined(values, ',')}\n`};
		case 'labels': {
			// A number behind a hyphen would be read as one below zero.
			const labels = headings.map(heading => heading.replaceAll('-', '_'));
			return {
				head: '',
				row(t, values) {
					const parts: string[] = [];
					for (let i = 0; i < headings.length; i++)
						if (!Number.isNaN(values[i])) parts.push(`${labels[i]}:${values[i]}`);
					return `${stamped(t)}${parts.join(' ')}\n`;
				},
			};
		}
	}
}

function tableText(separator: string, headings: readonly string[]): FrameText {
	return {
		head: `${[timeHeading, ...headings].join(separator)}\n`,
		row: (t, values) => `${t.toFixed(timeDigits)}${separator}${joined(values, separator)}\n`,
	};
}

function templateText(template: LineTemplate, headings: readonly string[]): FrameText {
	const places = templatePlaces(template, headings);
	const {texts} = template;
	return {
		head: '',
		row(t, values) {
			let text = texts[0];
			for (let i = 0; i < places.length; i++)
				text += (places[i] < 0 ? t.toFixed(timeDigits) : reading(values[places[i]])) + texts[i + 1];
			return text;
		},
	};
}

function joined(values: Float64Array, separator: string): string {
	let text = '';
	for (let i = 0; i < values.length; i++) text += (i === 0 ? '' : separator) + reading(values[i]);
	return text;
}

/** Empty where the board sent none. */
function reading(value: number): string {
	return Number.isNaN(value) ? '' : String(value);
}
