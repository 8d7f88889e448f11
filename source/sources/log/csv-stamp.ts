import type {SampleLines} from './log-lines.ts';
import type {StampShape} from './log-shape.ts';
import {ClockStamp, FieldStamp, NumberStamp, type StampReader} from './stamp-reader.ts';
import {goesLikeClock, judgeSteps, lineSpacing} from './steps.ts';
import {fieldsOf, mostColumns, possibleHeaders} from './table.ts';
import {divisorFor, isNumeric, timeNameDivisor} from './time-unit.ts';

/** A first column of this name is when the line came, put there by `glovebench frames`: it is none of the board's. */
const arrivalName = 'seconds';

/** Columns of a table that could be a time; each is tried on every line. */
const mostTimeColumns = 8;

/**
 * A header line whose field names say which column is the time. The column may be anywhere and stays in the bytes,
 * except for a clock time in the first one, which no framer could take for a channel, and for seconds of arrival there.
 */
export function findCsvStamp(sample: SampleLines): StampShape | undefined {
	for (const {line, text, separator} of possibleHeaders(sample)) {
		const names = fieldsOf(text.replace(/^\s*#\s*/, ''), separator);
		if (names.length < 2 || names.length > mostColumns || names.some(isNumeric)) continue;
		const timeColumns = names.flatMap((name, index) => {
			const divisor = timeNameDivisor(name);
			return divisor === undefined ? [] : [{index, name, separator, divisor}];
		});
		const candidates = timeColumns.slice(0, mostTimeColumns).map(column => tryColumn(sample, line, column));
		const found = candidates.filter(candidate => candidate !== undefined);
		// Of a date and a time, or of two clocks, the one that changes most often tells lines apart best.
		const best = found.find(({isArrival}) => isArrival) ?? found.sort((a, b) => b.distinct - a.distinct)[0];
		if (best) return best.shape;
	}

	return undefined;
}

type NamedColumn = {
	readonly index: number;
	readonly name: string;
	readonly separator: string;
	/** What the name says of the unit; 0 for nothing. */
	readonly divisor: number;
};

function tryColumn(
	sample: SampleLines,
	headerLine: number,
	{index, name, separator, divisor: named}: NamedColumn,
): {distinct: number; isArrival: boolean; shape: StampShape} | undefined {
	const rows = sample.starts.length - headerLine - 1;
	for (const kind of stampKinds) {
		const reader = new FieldStamp(kind.make(separator), index, separator);
		const {values, decimals} = readAll(reader, sample, headerLine);
		if (!areTimes(values, decimals, kind, {name, named, rows})) continue;
		const isClock = kind.is !== 'number';
		const divisor = isClock ? 1 : named || divisorFor(judgeSteps(values, false).meanStep, decimals);
		if (divisor === undefined) continue;
		const isArrival = index === 0 && name === arrivalName;
		const foreign = (isClock || isArrival) && index === 0;
		return {
			isArrival,
			distinct: new Set(values).size,
			shape: {
				reader,
				divisor,
				foreign,
				tail: Buffer.from(separator),
				wrapsAtMidnight: kind.is === 'clock',
				headerLine: foreign ? headerLine : -1,
				...lineSpacing(values, decimals, divisor),
			},
		};
	}

	return undefined;
}

/** What a column of times may be written as, in the order in which it is tried. */
type StampKind = {readonly is: 'dated' | 'clock' | 'number'; readonly make: (separator: string) => StampReader};

const stampKinds: readonly StampKind[] = [
	{is: 'dated', make: () => new ClockStamp(true)},
	{is: 'clock', make: () => new ClockStamp(false)},
	{is: 'number', make: () => new NumberStamp('.')},
	{is: 'number', make: separator => new NumberStamp(separator === ',' ? '.' : ',')},
];

/** The stamps of all lines below the header that have one, and how finely they are written at most. */
function readAll(
	reader: StampReader,
	{bytes, starts, ends}: SampleLines,
	headerLine: number,
): {values: number[]; decimals: number} {
	const values: number[] = [];
	let decimals = 0;
	for (let line = headerLine + 1; line < starts.length; line++) {
		const value = reader.read(bytes, starts[line]!, ends[line]!);
		if (Number.isNaN(value)) continue;
		values.push(value);
		decimals = Math.max(decimals, reader.decimals);
	}

	return {values, decimals};
}

function areTimes(
	values: readonly number[],
	decimals: number,
	{is}: StampKind,
	{name, named, rows}: {readonly name: string; readonly named: number; readonly rows: number},
): boolean {
	const {notFallingShare, meanStep, unitShare} = judgeSteps(values, is !== 'number');
	if (values.length < rows / 2 || (values.length > 1 && notFallingShare < 0.97)) return false;
	// A date in the sample's time zone order is what the first reader needs; without one it counts from midnight.
	if (is === 'dated') return values.length === 0 || values[0]! >= 86_400 * 2;
	if (is === 'clock') return true;
	// Named like a time, but a count of lines all the same.
	if (named === 0 && decimals === 0 && unitShare > 0.7) return false;
	// A single letter may as well be the thumb.
	return meanStep !== 0 && (name.trim().length !== 1 || goesLikeClock(values));
}
