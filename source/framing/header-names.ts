/**
 * Fields of a line of separated values: a field may be quoted, a quote in it is doubled. Blanks around unquoted fields
 * do not count.
 *
 * Source: RFC 4180, section 2, rules 5–7.
 */
export function splitFields(line: string, separator: string): string[] {
	const fields: string[] = [];
	let at = 0;
	for (;;) {
		while (line[at] === ' ' && separator !== ' ') at++;
		let field = '';
		if (line[at] === '"') {
			at++;
			while (at < line.length) {
				if (line[at] === '"') {
					if (line[at + 1] !== '"') break;
					at++;
				}
				field += line[at++];
			}
			at++;
			while (at < line.length && line[at] !== separator) at++;
		} else {
			const end = line.indexOf(separator, at);
			field = line.slice(at, end < 0 ? line.length : end).trim();
			at = end < 0 ? line.length : end;
		}
		fields.push(field);
		if (at >= line.length) return fields;
		at++;
	}
}

/** Names of a header line; undefined where it is none for so many columns: every field must hold a letter. */
export function readHeader(line: string | undefined, columns: number): string[] | undefined {
	if (line === undefined) return undefined;
	const bare = line.trim().replace(/^(?:#|\/\/|%)\s*/, '');
	const separators = [',', ';', '\t', '|'].filter(separator => bare.includes(separator));
	for (const separator of separators.length > 0 ? separators : [' ']) {
		let names = splitFields(separator === ' ' ? bare.replace(/\s+/g, ' ') : bare, separator);
		// A separator may stand at the end of each line.
		if (names.length === columns + 1 && names[columns] === '') names = names.slice(0, -1);
		if (names.length === columns && names.every(name => /\p{L}/u.test(name) && name.length <= 60)) return names;
	}
	return undefined;
}
