import {findCsvStamp} from './csv-stamp.ts';
import {findLineEnd, lineEndAfter, type SampleLines, textEnd} from './log-lines.ts';
import type {LogShape, StampShape} from './log-shape.ts';
import {separatorOf, separatorsIn, tailEnd} from './separators.ts';
import {ClockStamp, LabelStamp, NumberStamp, type StampReader} from './stamp-reader.ts';
import {goesLikeClock, judgeSteps, lineSpacing} from './steps.ts';
import {findTextColumns, type TextColumns} from './text-columns.ts';
import {divisorFor, timeNameDivisor} from './time-unit.ts';

/** Lines looked at; more add nothing, since a rule that holds for these holds for the file. */
const mostLines = 4000;

/** A label with its sign and a value, or an address word (ISO 6983) with another behind it. */
const labelAhead =
	/^["']?[A-Za-z_][\w.-]*["']?\s*[:=]\s*["']?[+-]?\.?\d|^[A-Za-z]{1,2}[+-]?\d+(?:\.\d+)?\s*[A-Za-z]{1,2}[+-]?\d/;
const longestLabel = 60;

/** Where a label named like a time stands in its line, if there is one. */
const longestLabelledLine = 1024;

/** What a reader makes of the sample. */
type Reading = {
	/** Stamps, in the order of their lines. */
	readonly values: readonly number[];
	/** Index of each stamp's line, and where in the sample the stamp ends. */
	readonly lines: readonly number[];
	readonly after: readonly number[];
	readonly decimals: number;
	/** True where all stamps have the same number of decimals, and have some. */
	readonly sameDecimals: boolean;
};

/** What stands behind the stamps. */
type Behind = {
	/** Bytes between stamp and frame, most frequent. */
	readonly tail: Buffer;
	/** Share of lines on which what follows the stamp is also what separates the frame's values. */
	readonly sameSeparatorShare: number;
	/** Share of lines whose frame has at least two values. */
	readonly frameShare: number;
	/** Share of lines on which a label or an address word follows: what stands before it is none of the values. */
	readonly labelledShare: number;
};

/**
 * Looks for a time on the lines of a log.
 *
 * @param start The beginning of the file, UTF-8; 256 KiB is plenty.
 * @param whole True if that is all of it.
 */
export function findLogShape(start: Uint8Array, whole: boolean): LogShape {
	const bytes = Buffer.from(start.buffer, start.byteOffset, start.byteLength);
	const lineEnd = findLineEnd(bytes);
	const starts: number[] = [];
	const ends: number[] = [];
	for (let from = 0; from < bytes.byteLength && starts.length < mostLines; ) {
		const next = lineEndAfter(bytes, from, lineEnd);
		if (next === -1 && !whole) break;
		const to = next === -1 ? bytes.byteLength : next;
		const end = textEnd(bytes, from, to);
		if (end > from) {
			starts.push(from);
			ends.push(end);
		}

		from = to;
	}

	const sample: SampleLines = {bytes, starts, ends};
	const stamp =
		starts.length === 0
			? null
			: (findCsvStamp(sample) ?? findClock(sample) ?? findNumber(sample) ?? findLabel(sample) ?? null);
	return {lineEnd, stamp, textColumns: leftOf(findTextColumns(sample), stamp)};
}

/** A time in the first column is taken off before the others are counted. */
function leftOf(columns: TextColumns | undefined, stamp: StampShape | null): TextColumns | null {
	if (columns === undefined) return null;
	if (!stamp?.foreign) return columns;
	const isText = columns.isText.slice(1);
	return isText.includes(true) ? {...columns, isText} : null;
}

function readAll(sample: SampleLines, reader: StampReader): Reading {
	const {bytes, starts, ends} = sample;
	const values: number[] = [];
	const lines: number[] = [];
	const after: number[] = [];
	let decimals = 0;
	let fewestDecimals = Number.POSITIVE_INFINITY;
	for (let line = 0; line < starts.length; line++) {
		const value = reader.read(bytes, starts[line]!, ends[line]!);
		if (Number.isNaN(value)) continue;
		values.push(value);
		lines.push(line);
		after.push(reader.after);
		decimals = Math.max(decimals, reader.decimals);
		fewestDecimals = Math.min(fewestDecimals, reader.decimals);
	}

	return {values, lines, after, decimals, sameDecimals: decimals > 0 && fewestDecimals === decimals};
}

/** Looked at only where the values go like a clock: this takes far longer than reading them. */
function lookBehind({bytes, ends}: SampleLines, {lines, after}: Reading): Behind {
	const tails = new Map<string, number>();
	let same = 0;
	let frames = 0;
	let labelled = 0;
	lines.forEach((line, i) => {
		const frameAt = tailEnd(bytes, after[i]!, ends[line]!);
		const tail = bytes.toString('latin1', after[i]!, frameAt);
		tails.set(tail, (tails.get(tail) ?? 0) + 1);
		const separators = separatorsIn(bytes, frameAt, ends[line]!);
		if (separators.length > 0) frames++;
		if (labelAhead.test(bytes.toString('latin1', frameAt, Math.min(ends[line]!, frameAt + longestLabel)))) labelled++;
		if (separators.includes(separatorOf(tail))) same++;
	});
	const [tail = ''] = [...tails].sort((a, b) => b[1] - a[1])[0] ?? [];
	return {
		tail: Buffer.from(tail, 'latin1'),
		sameSeparatorShare: same / (lines.length || 1),
		frameShare: frames / (lines.length || 1),
		labelledShare: labelled / (lines.length || 1),
	};
}

/** A clock time is unmistakable: a few lines are enough, and most may be without, such as boot text. */
function findClock(sample: SampleLines): StampShape | undefined {
	const dated = new ClockStamp(true);
	const {bytes, starts, ends} = sample;
	let withDate = 0;
	let withClock = 0;
	for (let line = 0; line < starts.length; line++) {
		if (Number.isNaN(dated.read(bytes, starts[line]!, ends[line]!))) continue;
		withClock++;
		if (dated.dated) withDate++;
	}

	if (withClock === 0 || withClock < starts.length / 10) return undefined;
	const useDate = withDate > 0.9 * withClock;
	const reader = new ClockStamp(useDate);
	const reading = readAll(sample, reader);
	const {notFallingShare} = judgeSteps(reading.values, !useDate);
	if (reading.values.length > 1 && notFallingShare < 0.9) return undefined;
	// A time that never changes and that most lines do without is that of the firmware's making, in its boot text.
	if (withClock < starts.length / 2 && reading.values.every(value => value === reading.values[0])) return undefined;
	return {
		reader,
		divisor: 1,
		foreign: true,
		tail: lookBehind(sample, reading).tail,
		wrapsAtMidnight: !useDate,
		headerLine: -1,
		...lineSpacing(reading.values, reading.decimals, 1),
	};
}

function findNumber(sample: SampleLines): StampShape | undefined {
	return tryNumber(sample, '.') ?? tryNumber(sample, ',');
}

function tryNumber(sample: SampleLines, decimalSign: '.' | ','): StampShape | undefined {
	const reader = new NumberStamp(decimalSign);
	const reading = readAll(sample, reader);
	const {values} = reading;
	if (values.length < 3 || values.length < sample.starts.length / 2) return undefined;
	if (decimalSign === ',' && !reading.sameDecimals) return undefined;
	const {notFallingShare, unitShare, meanStep} = judgeSteps(values);
	if (meanStep === 0 || notFallingShare < 0.97) return undefined;

	const {tail, frameShare, labelledShare, sameSeparatorShare} = lookBehind(sample, reading);
	// `0,399,150` is three values, `0,399 150` a time with decimal comma if its digits are always as many.
	if (decimalSign === ',' && (frameShare < 0.5 || tail.includes(','))) return undefined;
	const first = sample.starts[reading.lines[0]!]!;
	reader.read(sample.bytes, first, sample.ends[reading.lines[0]!]!);
	const {unitDivisor} = reader;
	// An arrow, a bracket, a unit: nobody writes those behind a reading.
	const marked = unitDivisor > 0 || reader.bracketed || tail.includes('>') || labelledShare > 0.9;
	const sameSeparator = !marked && (sameSeparatorShare > 0.5 || frameShare < 0.5);

	// A number that goes up by one from line to line counts lines.
	if (unitDivisor === 0 && reading.decimals === 0 && unitShare > 0.7) return undefined;
	if (sameSeparator && !goesLikeClock(values)) return undefined;
	if (!sameSeparator && !marked && reading.decimals === 0 && values.length < 8) return undefined;
	const divisor = unitDivisor || divisorFor(meanStep, reading.decimals);
	if (divisor === undefined) return undefined;
	return {
		reader,
		divisor,
		foreign: !sameSeparator,
		tail,
		wrapsAtMidnight: false,
		headerLine: -1,
		...lineSpacing(values, reading.decimals, divisor),
	};
}

/** A label or key named like a time, with a number that rises: `{"t":12345,…}`, `ms=12345 thumb=512`. */
function findLabel(sample: SampleLines): StampShape | undefined {
	const {bytes, starts, ends} = sample;
	const middle = starts.length >> 1;
	const from = starts[middle]!;
	// A pattern tried at every letter of an endless word would take hours.
	const line = bytes.toString('utf8', from, Math.min(ends[middle]!, from + longestLabelledLine));
	for (const [label, name] of line.matchAll(/["']?([A-Za-zµμ_]+)["']?\s*[:=]\s*(?=\d)/g)) {
		const named = timeNameDivisor(name!);
		if (named === undefined) continue;
		const reader = new LabelStamp(label);
		const {values, decimals} = readAll(sample, reader);
		const {meanStep} = judgeSteps(values);
		// The name alone is not enough: `t` is also the thumb.
		if (values.length < starts.length / 2 || !goesLikeClock(values)) continue;
		const divisor = named || divisorFor(meanStep, decimals);
		if (divisor === undefined) continue;
		return {
			reader,
			divisor,
			foreign: false,
			tail: new Uint8Array(),
			wrapsAtMidnight: false,
			headerLine: -1,
			...lineSpacing(values, decimals, divisor),
		};
	}

	return undefined;
}
