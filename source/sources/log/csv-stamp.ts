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
	const decimalSign = separator === ',' ? '.' : ',';
	const inner: (() => StampReader)[] = [
		() => new ClockStamp(true),
		() => new ClockStamp(false),
		() => new NumberStamp('.'),
		() => new NumberStamp(decimalSign),
	];
	for (const [kind, make] of inner.entries()) {
		const clock = kind < 2;
		const reader = new FieldStamp(make(), index, separator);
		const values: number[] = [];
		let decimals = 0;
		for (let line = headerLine + 1; line < sample.starts.length; line++) {
			const value = reader.read(sample.bytes, sample.starts[line]!, sample.ends[line]!);
			if (Number.isNaN(value)) continue;
			values.push(value);
			decimals = Math.max(decimals, reader.decimals);
		}

		const rows = sample.starts.length - headerLine - 1;
		const {notFallingShare, meanStep, unitShare} = judgeSteps(values, clock);
		if (values.length < rows / 2 || (values.length > 1 && notFallingShare < 0.97)) continue;
		// Named like a time, but a count of lines all the same.
		if (!clock && named === 0 && decimals === 0 && unitShare > 0.7) continue;
		// A single letter may as well be the thumb.
		if (!clock && name.trim().length === 1 && !goesLikeClock(values)) continue;
		const divisor = clock ? 1 : named || divisorFor(meanStep, decimals);
		if (divisor === undefined || (meanStep === 0 && !clock)) continue;
		// A date in the sample's time zone order is what the first reader needs; without one it counts from midnight.
		if (kind === 0 && values.length > 0 && values[0]! < 86_400 * 2) continue;
		const isArrival = index === 0 && name === arrivalName;
		const foreign = (clock || isArrival) && index === 0;
		return {
			isArrival,
			distinct: new Set(values).size,
			shape: {
				reader,
				divisor,
				foreign,
				tail: Buffer.from(separator),
				wrapsAtMidnight: kind === 1,
				headerLine: foreign ? headerLine : -1,
				...lineSpacing(values, decimals, divisor),
			},
		};
	}

	return undefined;
}
