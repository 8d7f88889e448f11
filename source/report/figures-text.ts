import {type EvidenceName, evidenceTable} from '../faults/evidence.ts';

/** Rounds to `digits` significant figures, and drops the zeros that say nothing. */
export function significant(value: number, digits: number): number {
	return Number.isFinite(value) ? Number(value.toPrecision(digits)) : value;
}

const smallest = 1e-6;

/** A number for a reader: three figures, thousands grouped, no exponent below 10²¹. `n/a` where there is none. */
export function figureText(value: number | null, digits = 3): string {
	if (value === null || !Number.isFinite(value)) return 'n/a';
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
	if (seconds < 99.95) return `${seconds < 10 ? Number(seconds.toFixed(2)) : Number(seconds.toFixed(1))} s`;
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

/** Whether a piece of evidence has a unit. */
export function hasUnit(name: string): boolean {
	return entryOf(name).unit !== '';
}

/**
 * One piece of evidence in words.
 *
 * @example
 * evidenceText('restNoisePercentFs', 4.13); // => 'rest noise 4.13 % FS'
 */
export function evidenceText(name: string, value: number | string): string {
	const {words, unit} = entryOf(name);
	const shown = typeof value === 'number' ? figureText(value) : value;
	return `${words} ${shown}${unit === '' ? '' : ` ${unit}`}`;
}

/** A name that no check of this version gives, as in a report of another one, is its own words. */
function entryOf(name: string): {readonly words: string; readonly unit: string} {
	return Object.hasOwn(evidenceTable, name) ? evidenceTable[name as EvidenceName] : {words: name, unit: ''};
}
