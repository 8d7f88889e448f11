import {CannotError} from '../cannot-error.ts';
import type {Channel} from '../framing/layout.ts';
import type {Sheet} from '../sheet/sheet.ts';
import type {FrameColumn} from './frame-columns.ts';
import type {ValueKind} from './frame-words.ts';

/** What one column's reading becomes. */
export type Conversion = (value: number) => number;

/** What is known of the readings' scale: the highest count, and the lowest possible reading of each channel. */
export type ReadingScale = {readonly fullScale: number; readonly lowOf: (channel: Channel) => number};

export type ConversionOptions = {
	readonly values?: ValueKind;
	/** Counts of so many bits instead of the converter's own. */
	readonly bits?: number;
};

/** Full scales of converters, 10 to 16 bit: others are no plain counts, and have no bits to change. */
const converterScales: readonly number[] = [1023, 4095, 16_383, 65_535];

/** A step of a 16-bit converter is 0.000015 of its scale and 0.0015 % of it: no reading loses by these digits. */
const bendDigits = 6;
const percentDigits = 4;

const same: Conversion = value => value;

/**
 * Counts of a converter as one of `bits` would give them. Up: ⌊v·T/F⌋; down: to the nearest, so that going up and back
 * gives the same counts (v·T/F − 1 < ⌊v·T/F⌋, times F/T more than v − F/T, and F/T is at most a quarter).
 */
export function toBits(value: number, fullScale: number, bits: number): number {
	const target = 2 ** bits - 1;
	const scaled = (value * target) / fullScale;
	return target >= fullScale ? Math.floor(scaled) : Math.round(scaled);
}

/**
 * What becomes of the readings of each column. Only fingers and stick axes are converted: buttons, counters, clocks and
 * spares stay as they came.
 *
 * @param scale Undefined where the full scale is not known.
 * @throws CannotError where the sheet or the full scale that it takes is missing.
 */
export function conversionsFor(
	columns: readonly FrameColumn[],
	{values = 'raw', bits}: ConversionOptions,
	sheet: Sheet | undefined,
	scale: ReadingScale | undefined,
): Conversion[] {
	if (bits !== undefined) {
		if (values !== 'raw')
			throw new CannotError(`--bits changes counts: leave it out with --values ${values}, which has none.`);
		const {fullScale} = needScale(scale, '--bits');
		if (!converterScales.includes(fullScale))
			throw new CannotError(
				`--bits changes counts of a converter, and full scale is ${fullScale} here: no converter has that. Leave it out, or give --full-scale.`,
			);
		return columns.map(({channel}) => (isAnalog(channel) ? value => toBits(value, fullScale, bits) : same));
	}

	if (values === 'raw') return columns.map(() => same);
	if (values === 'percent') {
		const {fullScale, lowOf} = needScale(scale, '--values percent');
		return columns.map(({channel}) => {
			const low = lowOf(channel);
			return isAnalog(channel) ? value => rounded((100 * (value - low)) / fullScale, percentDigits) : same;
		});
	}

	return columns.map(({heading, channel}) => {
		if (!isAnalog(channel)) return same;
		const ends = sheet?.channels.find(({name}) => name === channel.name);
		const {min, max, inverted = false} = ends ?? {};
		if (min !== undefined && max !== undefined && max > min) return bendOf(min, max, inverted);
		if (channel.role === 'finger')
			throw new CannotError(
				`--values bend takes min and max of ${heading} from a sheet, which ${sheet === undefined ? 'was not given: name one with --sheet' : 'it does not say'}. glovebench fit SOURCE prints them.`,
			);
		const {fullScale, lowOf} = needScale(scale, '--values bend with a stick');
		return bendOf(lowOf(channel), lowOf(channel) + fullScale, inverted);
	});
}

/** 0 for the open finger, 1 for the closed one; beyond the ends it stays there. */
function bendOf(min: number, max: number, inverted: boolean): Conversion {
	return value => {
		const part = Math.min(1, Math.max(0, (value - min) / (max - min)));
		return rounded(inverted ? 1 - part : part, bendDigits);
	};
}

function isAnalog({role}: Channel): boolean {
	return role === 'finger' || role === 'stick';
}

function needScale(scale: ReadingScale | undefined, option: string): ReadingScale {
	if (scale !== undefined) return scale;
	throw new CannotError(`${option} needs the full scale: give it with --full-scale, such as 1023, or with a --sheet.`);
}

function rounded(value: number, digits: number): number {
	return Number.isNaN(value) ? value : Number(value.toFixed(digits));
}
