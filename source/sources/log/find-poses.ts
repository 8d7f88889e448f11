/** Columns of an orientation as a quaternion, and how near to length 1 they are: trackers print four digits or more. */
const quaternionColumns = 4;
const unitLength = 0.02;
const leastRows = 5;
const mostRows = 200;
const leastShare = 0.95;

/** Time, position, orientation, and a number of the frame or of the device: more than that is not only a pose. */
const mostColumns = 10;

/**
 * Whether a log is of a tracker's poses: a header that names position and orientation, or rows of a few numbers of which
 * four next to each other are a quaternion, the sum of their squares 1 (its definition as a rotation).
 */
export function isPoseLog(lines: readonly string[]): boolean {
	const header = lines.slice(0, 20).find(line => /[A-Za-z]/.test(line));
	const names = (header ?? '')
		.toLowerCase()
		.split(/[\s,;|]+/)
		.map(name => name.replaceAll(/[^a-z]/g, ''));
	const has = (wanted: readonly RegExp[]): boolean => wanted.every(one => names.some(name => one.test(name)));
	const position = [
		/^(?:p|pos|position|t|trans)?x$/,
		/^(?:p|pos|position|t|trans)?y$/,
		/^(?:p|pos|position|t|trans)?z$/,
	];
	const orientation = [/^(?:q|quat|rot|r|o|orientation)w$/, /^(?:q|quat|rot|r|o|orientation)x$/];
	if (has(position) && has(orientation) && names.length <= mostColumns + 2) return true;
	const rows = lines
		.filter(line => /^[\s\d.,;|eE+-]+$/.test(line) && /\d/.test(line))
		.slice(0, mostRows)
		.map(line => (line.match(/[+-]?\d*\.?\d+(?:[eE][+-]?\d+)?/g) ?? []).map(Number));
	const width = rows[0]?.length ?? 0;
	if (rows.length < leastRows || width < 7 || width > mostColumns) return false;
	for (let first = 0; first + quaternionColumns <= width; first++) {
		const own = rows.filter(row => row.length === width && isQuaternion(row, first));
		const turns = own.some(row => row.slice(first, first + quaternionColumns).some(value => !Number.isInteger(value)));
		if (turns && own.length >= leastShare * rows.length) return true;
	}

	return false;
}

function isQuaternion(row: readonly number[], first: number): boolean {
	const four = row.slice(first, first + quaternionColumns);
	return Math.abs(Math.hypot(...four) - 1) < unitLength;
}
