import {parse} from 'csv-parse/sync';
import {endOfField, type SampleLines, textEnd} from './log-lines.ts';
import {isNumeric} from './time-unit.ts';

/** Columns of a table that hold words: a note, a gesture's name, a date. */
export type TextColumns = {
	readonly separator: number;
	/** True for each column that is left out; one per field of a row. */
	readonly isText: readonly boolean[];
};

const headerWithinLines = 20;
const separators = [',', ';', '\t', '|'];
const mostColumns = 300;
const longestRow = 64 * mostColumns;

const longestReading = 100;

/** Rows looked at: what a column holds shows in fewer. */
const mostRows = 200;

/** A number, perhaps behind a label, perhaps before a unit. */
const reading =
	/^(?:[\p{L}_-]+\s*[:=]?\s*)?[+-]?(?:0x[0-9a-f]+|(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d+)?)\s*[^\d\s:/-]{0,4}$/iu;

/** What stands where there is no reading. */
const nothing = /^(?:|-+|nan|null|none|n\/a|true|false)$/i;

/**
 * Finds the columns of words in a table: a header of names, and rows with as many fields (RFC 4180). Undefined where
 * there is no such table, where no column holds words, or where fewer than two others would be left.
 */
export function findTextColumns({bytes, starts, ends}: SampleLines): TextColumns | undefined {
	const lineText = (line: number) =>
		ends[line]! - starts[line]! > longestRow ? '' : bytes.toString('utf8', starts[line]!, ends[line]!);
	for (let line = 0; line < Math.min(starts.length - 1, headerWithinLines); line++) {
		for (const separator of separators) {
			const names = fieldsOf(lineText(line), separator);
			if (names.length < 3 || names.length > mostColumns) continue;
			if (names.some(name => isNumeric(name) || !/\p{L}/u.test(name))) continue;
			const found = judgeColumns(names.length, separator, lineText, line + 1, starts.length);
			if (found) return found;
		}
	}

	return undefined;
}

function judgeColumns(
	width: number,
	separator: string,
	lineText: (line: number) => string,
	first: number,
	end: number,
): TextColumns | undefined {
	const words = new Array<number>(width).fill(0);
	const numbers = new Array<number>(width).fill(0);
	let rows = 0;
	const last = Math.min(end, first + mostRows);
	for (let line = first; line < last; line++) {
		const fields = fieldsOf(lineText(line), separator);
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

function fieldsOf(line: string, separator: string): string[] {
	try {
		const [fields = []] = parse(line.replace(/^\uFEFF/, ''), {delimiter: separator, relax_quotes: true}) as string[][];
		return fields;
	} catch {
		return [];
	}
}

/** The bytes from `from` to `to` without the columns of words; untouched where they are no row of the table. */
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
