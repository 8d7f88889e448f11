import {parse} from 'csv-parse/sync';
import {readLabel} from './read-label.ts';

const longestName = 24;
/** A name with its unit, and blanks around them. Trying a pattern on more would take ever longer. */
const longestField = 100;
const utf8 = new TextDecoder();

/** Column names of a CSV header, and the unit they carry in brackets, if all that have one agree. */
type Header = {readonly names: readonly string[]; readonly unit: string | null};

/**
 * Reads a line as the header of a table with so many columns; quoted names follow RFC 4180. Undefined where it is none:
 * another count, a field that is no name. Words between blanks are a header only where two of them are names of
 * channels, since sentences look alike.
 */
export function readHeader(line: Uint8Array, separator: string | null, count: number): Header | undefined {
	const text = utf8.decode(line).replace(/^\s*(?:#|\/\/|%)\s*/, '');
	if (count < 2 || separator === null || /[:=]/.test(text)) return undefined;
	const fields = splitFields(text.trim(), separator);
	if (fields.length === count + 1 && fields[count] === '') fields.pop();
	if (fields.length !== count) return undefined;
	const columns = fields.map(readField).filter(column => column !== undefined);
	if (columns.length !== count) return undefined;
	const names = columns.map(({name}) => name);
	const known = names.filter(name => readLabel(name, names) !== undefined).length;
	if (separator === ' ' && known < 2) return undefined;
	// A clock's unit is its own: the readings beside it are not in milliseconds.
	const units = new Set(
		columns.flatMap(({name, unit}) => (unit === undefined || readLabel(name, names)?.role === 'clock' ? [] : [unit])),
	);
	return {names, unit: units.size === 1 ? ([...units][0] ?? null) : null};
}

/** The name of a column and its unit in brackets; a number in brackets belongs to the name. Undefined where it is no name. */
function readField(field: string): {readonly name: string; readonly unit?: string} | undefined {
	if (field.length > longestField) return undefined;
	const parts = /^(.*?)\s*[([]([^)\]]*)[)\]]$/u.exec(field);
	const name = (parts?.[1] ?? field).trim();
	if (!/\p{L}/u.test(name) || name.length > longestName || name.split(/\s+/).length > 3) return undefined;
	if (parts === null) return {name};
	return /^\d+$/.test(parts[2]) ? {name: field} : {name, unit: parts[2].trim()};
}

function splitFields(text: string, separator: string): string[] {
	if (separator === ' ') return text.split(/\s+/);
	try {
		const records: string[][] = parse(text, {delimiter: separator, trim: true});
		return records.length === 1 ? records[0] : [];
	} catch {
		// Start-up text may hold a lone quote.
		return [];
	}
}
