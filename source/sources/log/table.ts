import {parse} from 'csv-parse/sync';
import type {SampleLines} from './log-lines.ts';

/** A header comes first, but perhaps behind a few lines of comment or boot text. */
const headerWithinLines = 20;

const separators = [',', ';', '\t', '|'];

/** More than any glove's table has. */
export const mostColumns = 300;
const longestRow = 64 * mostColumns;

/** What stands on a line of the sample; empty where it is longer than any row of a table. */
export function rowText({bytes, starts, ends}: SampleLines, line: number): string {
	const from = starts[line]!;
	const to = ends[line]!;
	return to - from > longestRow ? '' : bytes.toString('utf8', from, to).replace(/^\uFEFF/, '');
}

/** Lines that could be a table's header, each with every separator that is in it: names have letters. */
export function* possibleHeaders(
	sample: SampleLines,
): Generator<{readonly line: number; readonly text: string; readonly separator: string}> {
	for (let line = 0; line < Math.min(sample.starts.length - 1, headerWithinLines); line++) {
		const text = rowText(sample, line);
		if (!/\p{L}/u.test(text)) continue;
		for (const separator of separators) if (text.includes(separator)) yield {line, text, separator};
	}
}

/** The fields of a row (RFC 4180); none where its quotes are wrong, unless they may be. */
export function fieldsOf(row: string, separator: string, {relaxQuotes = false} = {}): string[] {
	try {
		const [fields = []] = parse(row, {delimiter: separator, relax_quotes: relaxQuotes}) as string[][];
		return fields;
	} catch {
		return [];
	}
}
