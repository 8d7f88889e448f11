import {CannotError} from '../cannot-error.ts';
import {escapeText} from '../text/escape-text.ts';
import {listText} from '../text/list-text.ts';
import {timeHeading} from './frame-columns.ts';

/** A line to be written for each frame: text, and headings whose values go between. */
export type LineTemplate = {
	/** One more than headings. */
	readonly texts: readonly string[];
	readonly headings: readonly string[];
};

const escapes: Readonly<Record<string, string>> = {n: '\n', r: '\r', t: '\t', '\\': '\\'};

/** In order: a doubled brace, a heading in braces, a backslash with what it stands for, a brace by itself. */
const pieces = /(?<brace>\{\{|\}\})|\{(?<heading>[^{}]*)\}|\\(?<escaped>[\s\S]?)|(?<lone>[{}])/g;

/**
 * Reads a template such as `T{thumb} I{index}\n`: headings in braces, `{{` and `}}` for braces, `\n \r \t \\`. Without an
 * end of line at its end it gets one.
 *
 * @throws CannotError for a brace without its partner, and for a backslash before anything else.
 */
export function readTemplate(template: string): LineTemplate {
	const texts: string[] = [''];
	const headings: string[] = [];
	const add = (text: string): void => {
		texts[texts.length - 1] += text;
	};

	let at = 0;
	for (const found of template.matchAll(pieces)) {
		add(template.slice(at, found.index));
		at = found.index + found[0].length;
		const {brace, heading, escaped, lone} = found.groups!;
		if (brace !== undefined) add(brace[0]);
		else if (heading !== undefined) {
			headings.push(heading.trim());
			texts.push('');
		} else if (lone !== undefined)
			throw new CannotError(
				`--line: the brace at character ${found.index + 1} has no partner: write {{ or }} for a brace that is to be printed.`,
			);
		else if (escaped !== undefined && Object.hasOwn(escapes, escaped)) add(escapes[escaped]);
		else
			throw new CannotError(
				`--line: ${escapeText(JSON.stringify(found[0]), 20)} at character ${found.index + 1} stands for nothing: it takes \\n, \\r, \\t and \\\\.`,
			);
	}

	add(template.slice(at));
	if (!/[\r\n]$/.test(texts[texts.length - 1])) add('\n');
	return {texts, headings};
}

/** Where the values of a template's headings stand among the columns; −1 for the time. Throws `CannotError` for others. */
export function templatePlaces({headings}: LineTemplate, columns: readonly string[]): number[] {
	return headings.map(heading => {
		const place = columns.indexOf(heading);
		if (place >= 0 || heading === timeHeading) return place;
		throw new CannotError(
			`--line: no channel is called ${escapeText(JSON.stringify(heading), 40)}; there are ${listText([timeHeading, ...columns])}.`,
		);
	});
}
