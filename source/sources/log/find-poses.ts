import {readLabel} from '../../framing/read-label.ts';

/** Columns of an orientation as a quaternion, and how near to length 1 they are: trackers print four digits or more. */
const quaternionColumns = 4;
const unitLength = 0.02;
const leastRows = 5;
const mostRows = 200;
const leastShare = 0.95;

/** Time, position, orientation, and a number of the frame or of the device: more than that is not only a pose. */
const mostColumns = 10;

/** Of an object on one line so much is looked at. */
const longestObject = 2048;

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
	if (isPoseObject(lines.find(line => line.trim().startsWith('{')) ?? '')) return true;
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

/** Keys that name position and orientation and little else: `{"pos":{"x":…},"rot":{"w":…}}`, `{"x":…,"qw":…}`. */
function isPoseObject(line: string): boolean {
	const keys = [...line.slice(0, longestObject).matchAll(/"([^"]{1,40})"\s*:/g)].map(([, key]) => key);
	if (keys.length > mostColumns + 2 || /\[(?:[^\],]*,){4}/.test(line)) return false;
	if (
		keys.some(key => ['finger', 'button', 'stick'].includes(readLabel(key, keys)?.role ?? '') && !/^[xy]$/i.test(key))
	)
		return false;
	const own = keys.map(key => key.toLowerCase().replaceAll(/[^a-z]/g, ''));
	const hasPosition = own.some(key => /^(?:px|(?:pos|position|trans|translation|location)x?)$/.test(key));
	const hasTurn = own.some(key => /^(?:q|quat|quaternion|rot|rotation|orientation)[wx]?$/.test(key));
	const axes = ['x', 'y', 'z'].every(axis => own.some(key => key.endsWith(axis)));
	const isTwoParts = own.filter(key => key === 'z').length === 2;
	const isFlat = ['x', 'y', 'z', 'qw'].every(key => own.includes(key));
	return hasTurn && axes && (hasPosition || isTwoParts || isFlat);
}

/** A header of position and of angles: the same movement, in a form that `mount` does not take. */
export function isAnglePoseLog(lines: readonly string[]): boolean {
	const header = lines.slice(0, 20).find(line => /[A-Za-z]/.test(line)) ?? '';
	const names = header.toLowerCase().split(/[\s,;|]+/);
	if (names.length > mostColumns) return false;
	return ['x', 'y', 'z', 'roll', 'pitch', 'yaw'].every(own =>
		names.some(
			name =>
				name
					.replaceAll(/[^a-z]/g, '')
					.replace(/^(?:pos|position|rot|rotation)/, '')
					.replace(/(?:deg|rad|mm?)$/, '') === own,
		),
	);
}

function isQuaternion(row: readonly number[], first: number): boolean {
	const four = row.slice(first, first + quaternionColumns);
	return Math.abs(Math.hypot(...four) - 1) < unitLength;
}
