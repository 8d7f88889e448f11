import {endOfField, type SampleLines, textEnd} from './log-lines.ts';
import {fieldsOf, mostColumns, possibleHeaders, rowText} from './table.ts';
import {isNumeric} from './time-unit.ts';

/** Columns of a table that hold words: a note, a gesture's name, a date. */
export type TextColumns = {
	readonly separator: number;
	/** True for each column that is left out; one per field of a row. */
	readonly isText: readonly boolean[];
};

const longestReading = 100;

/** Rows looked at: what a column holds shows in fewer. */
const mostRows = 200;

/** A number, perhaps behind a label (with digits in it only where a mark ends it: `button-1:0`), perhaps before a unit. */
const reading =
	/^(?:[\p{L}_][\p{L}\p{N}_.-]*\s*[:=]\s*|[\p{L}_-]+\s*)?[+-]?(?:0x[0-9a-f]+|(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d+)?)\s*[^\d\s:/-]{0,4}$/iu;

/** What stands where there is no reading. */
const nothing = /^(?:|-+|nan|null|none|n\/a|true|false)$/i;

/**
 * Finds the columns of words in a table: a header of names, and rows with as many fields (RFC 4180). Undefined where
 * there is no such table, where no column holds words, or where fewer than two others would be left.
 */
export function findTextColumns(sample: SampleLines): TextColumns | undefined {
	for (const {line, text, separator} of possibleHeaders(sample)) {
		const names = fieldsOf(text, separator, {relaxQuotes: true});
		if (names.length < 3 || names.length > mostColumns) continue;
		if (names.some(name => isNumeric(name) || !/\p{L}/u.test(name))) continue;
		const found = judgeColumns(names.length, separator, sample, line + 1);
		if (found) return found;
	}

	return undefined;
}

/** Looks at the rows from line `first` on. */
function judgeColumns(width: number, separator: string, sample: SampleLines, first: number): TextColumns | undefined {
	const words = new Array<number>(width).fill(0);
	const numbers = new Array<number>(width).fill(0);
	let rows = 0;
	const last = Math.min(sample.starts.length, first + mostRows);
	for (let line = first; line < last; line++) {
		const fields = fieldsOf(rowText(sample, line), separator, {relaxQuotes: true});
		if (fields.length !== width) continue;
		rows++;
		for (const [column, field] of fields.entries()) {
			const text = field.trim();
			// A longer one is no number, and would take ever longer to try.
			if (text.length <= longestReading && reading.test(text)) numbers[column]++;
			else if (!nothing.test(text)) words[column]++;
		}
	}

	if (rows < 3 || rows < 0.9 * (last - first)) return undefined;
	const isText = words.map((count, column) => count > 0 && numbers[column] < 0.1 * count);
	const left = numbers.filter((count, column) => count > rows / 2 && !isText[column]).length;
	return isText.includes(true) && left >= 2 ? {separator: separator.charCodeAt(0), isText} : undefined;
}

/** A line without the columns of words; untouched where it is no row of the table. */
export function withoutTextColumns(line: Uint8Array, {separator, isText}: TextColumns): Uint8Array {
	const end = textEnd(line, 0, line.byteLength);
	const kept: Uint8Array[] = [];
	let column = 0;
	for (let at = 0; ; column++) {
		const fieldEnd = endOfField(line, at, end, separator);
		// With the separator before it, but for the first that is kept.
		if (column >= isText.length) return line;
		if (!isText[column]) kept.push(line.subarray(kept.length === 0 ? at : at - 1, fieldEnd));
		if (fieldEnd >= end) break;
		at = fieldEnd + 1;
	}

	return column + 1 === isText.length ? Buffer.concat([...kept, line.subarray(end)]) : line;
}
