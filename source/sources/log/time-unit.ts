import {isDigit} from './stamp-reader.ts';

/**
 * Frames a second a glove may send: from one every two seconds to two thousand. Common practice, no source; it only
 * serves to tell seconds, milliseconds and microseconds apart, which lie a thousandfold from each other.
 */
const plausibleIntervalSeconds = {least: 0.0005, most: 2};

/**
 * The divisor that turns a column's numbers into seconds, from the mean step between lines.
 *
 * Whole numbers are tried as milliseconds, microseconds and seconds; numbers with decimals as seconds first.
 * `undefined` where no unit gives a plausible interval.
 */
export function divisorFor(meanStep: number, decimals: number): number | undefined {
	const order = decimals > 0 ? [1, 1e3, 1e6] : [1e3, 1e6, 1, 1e9];
	return order.find(
		divisor =>
			meanStep / divisor >= plausibleIntervalSeconds.least && meanStep / divisor <= plausibleIntervalSeconds.most,
	);
}

const unitWords: readonly (readonly [words: readonly string[], divisor: number])[] = [
	[['ms', 'msec', 'millis', 'millisecond', 'milliseconds'], 1e3],
	[['us', 'usec', 'micros', 'microsecond', 'microseconds', 'µs', 'μs'], 1e6],
	[['ns', 'nanos', 'nanoseconds'], 1e9],
	[['s', 'sec', 'secs', 'second', 'seconds'], 1],
];

const timeWords = new Set([
	'time',
	'timestamp',
	'timestamps',
	't',
	'ts',
	'date',
	'datetime',
	'clock',
	'elapsed',
	'uptime',
	'epoch',
	'unix',
	'zeit',
	'temps',
	'tiempo',
	'tempo',
	'tijd',
	'tid',
]);

/**
 * What a column's name says of it: undefined if it is not named like a time, else the divisor to seconds, 0 where the
 * name doesn't say. `time_ms`, `Time (s)`, `millis`, `t[us]`, `Timestamp`.
 */
export function timeNameDivisor(name: string): number | undefined {
	const words = name
		.replaceAll(/([a-z])([A-Z])/g, '$1 $2')
		.toLowerCase()
		.split(/[^a-zµμ]+/)
		.filter(word => word !== '');
	if (words.length === 0 || words.length > 3 || /\d/.test(name)) return undefined;
	const unit = unitWords.find(([names]) => words.some(word => names.includes(word)));
	const other = words.filter(word => !unit?.[0].includes(word));
	if (
		!other.every(
			word =>
				timeWords.has(word) ||
				word === 'local' ||
				word === 'utc' ||
				word === 'board' ||
				word === 'host' ||
				word === 'unix' ||
				word === 'received' ||
				word === 'recorded' ||
				word === 'recording' ||
				word === 'system' ||
				word === 'since' ||
				word === 'start',
		)
	)
		return undefined;
	return unit?.[1] ?? (other.length > 0 ? 0 : undefined);
}

/** True for a field that is a plain number: a header has none. */
export function isNumeric(field: string): boolean {
	return isDigit(field.trim().charCodeAt(0)) || /^[+-]?\.?\d/.test(field.trim());
}
