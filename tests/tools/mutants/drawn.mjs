/** The places drawn in this run, as `placeOf` names them. */
export const drawn = new Set();

/** Where a mutant is: its file and what of it is replaced, lines and columns from 1. */
export function placeOf({fileName, location: {start, end}}) {
	return `${fileName}:${start.line}:${start.column}-${end.line}:${end.column}`;
}
