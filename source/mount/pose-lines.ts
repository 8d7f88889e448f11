import {parse} from 'csv-parse/sync';

/** One line of a log as cells; `names` where each says what it is, as in JSON. */
export type PoseLine = {readonly cells: readonly string[]; readonly names?: readonly string[]};

/** How cells are told apart. */
export type Separator = ',' | ';' | '\t' | 'blank' | 'json';

const commentLine = /^\s*(?:#|\/\/|%)/;

/** The separator of a log by its first lines: the one of `; tab ,` that most lines have, else blanks. */
export function findSeparator(lines: readonly string[]): Separator {
	const own = lines.filter(line => line.trim() !== '' && !commentLine.test(line));
	if (own.length > 0 && own.every(line => /^\s*[{[]/.test(line))) return 'json';
	for (const separator of ['\t', ';', ','] as const) {
		if (own.length > 0 && own.filter(line => line.split(separator).length >= 4).length > own.length / 2)
			return separator;
	}
	return 'blank';
}

/** A line's cells; undefined for an empty line, a comment, and what is no JSON among JSON. */
export function splitPoseLine(line: string, separator: Separator): PoseLine | undefined {
	if (line.trim() === '' || commentLine.test(line)) return undefined;
	if (separator === 'json') return jsonLine(line);
	if (separator === 'blank')
		return {
			cells: line
				.trim()
				.replaceAll(/[()[\],]/g, ' ')
				.trim()
				.split(/\s+/),
		};
	const cells = line.includes('"')
		? ((parse(line, {delimiter: separator, relax_quotes: true, relax_column_count: true}) as string[][])[0] ?? [])
		: line.split(separator);
	// A comma in a number is a decimal comma where commas do not separate.
	const isDecimalComma = separator !== ',' && line.includes(',');
	return {
		cells: cells.map(cell =>
			isDecimalComma ? cell.trim().replace(/^([+-]?\d+),(\d+(?:e[+-]?\d+)?)$/i, '$1.$2') : cell.trim(),
		),
	};
}

function jsonLine(line: string): PoseLine | undefined {
	let value: unknown;
	try {
		value = JSON.parse(line.trim().replace(/,$/, ''));
	} catch {
		return undefined;
	}
	const names: string[] = [];
	const cells: string[] = [];
	flatten(value, '', names, cells, 0);
	return cells.length === 0 ? undefined : {names, cells};
}

/** `{"pos": {"x": 1}}` as `pos.x`, lists by their index. */
function flatten(value: unknown, name: string, names: string[], cells: string[], depth: number): void {
	if (typeof value === 'object' && value !== null) {
		if (depth > 4) return;
		for (const [key, each] of Object.entries(value))
			flatten(each, name === '' ? key : `${name}.${key}`, names, cells, depth + 1);
		return;
	}
	names.push(name);
	cells.push(value === null ? '' : String(value));
}
