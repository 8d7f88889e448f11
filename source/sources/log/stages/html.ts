import type {LeftOut} from '../../../stream/intake.ts';
import {LineChange, type LineStage, type StageFinder} from './line-stage.ts';

/** The references that turn up in pasted readings, and numbered ones. Source: HTML Living Standard, named character references. */
const named: Readonly<Record<string, string>> = {
	gt: '>',
	lt: '<',
	amp: '&',
	quot: '"',
	apos: "'",
	nbsp: ' ',
	deg: '\xc2\xb0',
	micro: '\xc2\xb5',
	comma: ',',
	colon: ':',
	semi: ';',
	Tab: '\t',
	lbrack: '[',
	rbrack: ']',
};

const reference = /&(#\d{1,6}|#x[0-9a-f]{1,6}|[a-z]{2,6});/gi;
const tag =
	/<\/?(?:br|p|div|span|pre|code|tt|li|ul|ol|td|tr|th|table|tbody|thead|b|i|em|strong|font|blockquote|html|body|head|meta|title)(?:\s[^<>]*)?\/?>/gi;
const breaks = /<(?:br|\/p|\/div|\/li|\/tr|\/pre)\b[^<>]*>/gi;
const cells = /<\/t[dh]>\s*<t[dh][^<>]*>/gi;

/** What pasting from a page leaves in the text: `&gt;`, `&nbsp;`, `<br>`, cells of a table. */
class Html implements LineStage {
	#lines = 0;

	take(line: string, pass: (line: string) => void): void {
		if (!line.includes('&') && !line.includes('<')) {
			pass(line);
			return;
		}

		const text = line
			.replaceAll(cells, ',')
			.replaceAll(breaks, '\n')
			.replaceAll(tag, '')
			.replaceAll(reference, (whole, name: string) => readReference(name) ?? whole);
		if (text === line) {
			pass(line);
			return;
		}

		this.#lines++;
		const parts = text.split('\n');
		for (const part of parts) if (part.trim() !== '') pass(part.replace(/^ +| +$/g, ''));
		if (parts.every(part => part.trim() === '')) pass('');
	}

	get told(): LeftOut | undefined {
		return this.#lines === 0 ? undefined : {what: 'HTML', lines: this.#lines};
	}
}

function readReference(name: string): string | undefined {
	if (!name.startsWith('#')) return named[name] ?? named[name.toLowerCase()];
	const code = /^#x/i.test(name) ? Number.parseInt(name.slice(2), 16) : Number(name.slice(1));
	if (code === 0xa0) return ' ';
	return code > 0x10ffff ? undefined : Buffer.from(String.fromCodePoint(code), 'utf8').toString('latin1');
}

export const findHtml: StageFinder = sample =>
	sample.some(line => /&(?:gt|lt|amp|quot|nbsp|#\d+);|<br ?\/?>|<\/(?:p|div|td|pre|span)>/i.test(line))
		? new Html()
		: undefined;

/** Blanks that are no blank to a program: no-break, thin, zero-width (UTF-8, one character a byte). */
export const findOddBlanks: StageFinder = sample => {
	const wide = /\xc2\xa0|\xe2\x80[\x80-\x8a\xaf]|\xe3\x80\x80/g;
	const none = /\xe2\x80[\x8b-\x8f\xaa-\xae]|\xef\xbb\xbf|\xe2\x81\xa0/g;
	const minus = /\xe2(?:\x88\x92|\x80[\x90-\x93])(?=\d)/g;
	const any = /\xc2\xa0|\xe2(?:\x80[\x80-\x93\xaa-\xaf]|\x81\xa0|\x88\x92)|\xe3\x80\x80|\xef\xbb\xbf/;
	if (!sample.some(line => any.test(line))) return undefined;
	return new LineChange('blanks and dashes of a word processor', line =>
		any.test(line) ? line.replaceAll(wide, ' ').replaceAll(minus, '-').replaceAll(none, '') : line,
	);
};
