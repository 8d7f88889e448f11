import {significant} from './round-figures.ts';

/**
 * So many decimals, zeros at the end kept, so that figures below each other line up; `none` for what is not known. What is no
 * finite number is written as it is.
 */
export function fixedText(value: number | null | undefined, decimals: number, none = '-'): string {
	return value === null || value === undefined ? none : value.toFixed(decimals);
}

/** `fixedText` with its unit behind it: `8.20 ms`; `-` alone for what is not known. */
export function measureText(value: number | null, decimals: number, unit: string): string {
	return value === null ? fixedText(value, decimals) : `${fixedText(value, decimals)} ${unit}`;
}

/** So many significant digits, zeros at the end kept: `0.50`; `-` for what is not known. */
export function significantText(value: number | null, digits: number): string {
	return value === null ? '-' : value.toPrecision(digits);
}

/** At most so many decimals, without zeros at the end: `2`, `2.5`. */
export function trimmedText(value: number, decimals: number): string {
	return String(Number(value.toFixed(decimals)));
}

/** So many decimals, with a plus sign above zero: `+0.2`, `-3.5`, `0.0`. */
export function signedText(value: number, decimals: number): string {
	return `${value > 0 ? '+' : ''}${fixedText(value, decimals)}`;
}

const smallest = 1e-6;

/** A number for a reader: three figures, thousands grouped, no exponent below 10²¹. `none` for what is not known. */
export function figureText(value: number | null | undefined, digits = 3, none = 'n/a'): string {
	if (value === null || value === undefined) return none;
	if (!Number.isFinite(value)) return 'n/a';
	// Smaller ones are what arithmetic leaves of nothing, and would come out with an exponent.
	if (Math.abs(value) < smallest) return '0';
	const rounded = Math.abs(value) >= 10 ** (digits - 1) ? Math.round(value) : significant(value, digits);
	const [whole = '', fraction] = String(rounded).split('.');
	const grouped = whole.replace(/\B(?=(\d{3})+(?!\d))/g, whole.replace('-', '').length > 4 ? ',' : '');
	return fraction === undefined ? grouped : `${grouped}.${fraction}`;
}

/**
 * A stretch or moment of stream time: `0.35 s`, `12.4 s`, `3 min 20 s`, `1 h 2 min`.
 *
 * @example
 * secondsText(200); // => '3 min 20 s'
 */
export function secondsText(seconds: number): string {
	if (seconds < 99.95) return `${trimmedText(seconds, seconds < 10 ? 2 : 1)} s`;
	const whole = Math.round(seconds);
	const hours = Math.floor(whole / 3600);
	const minutes = Math.floor((whole % 3600) / 60);
	if (hours > 0) return `${hours} h ${minutes} min`;
	return `${minutes} min ${whole % 60} s`;
}

/** `1 frame`, `2 frames`. */
export function countText(count: number, one: string, many = `${one}s`): string {
	return `${figureText(count)} ${count === 1 ? one : many}`;
}

/** Every digit of a whole number, thousands grouped: `1,234`. */
export function wholeText(value: number): string {
	return value.toLocaleString('en');
}

/** A size to the byte: `1 byte`, `1,234 bytes`. */
export function bytesText(bytes: number): string {
	return `${wholeText(bytes)} ${bytes === 1 ? 'byte' : 'bytes'}`;
}
