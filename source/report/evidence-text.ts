import {type EvidenceName, evidenceTable} from '../faults/evidence.ts';
import {figureText} from '../text/number-text.ts';

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
