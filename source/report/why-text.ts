import {gateWords} from '../faults/limit-text.ts';
import type {Why} from '../session/check-rows.ts';
import type {Finding} from '../session/snapshot.ts';
import {escapeText} from '../text/escape-text.ts';
import {figureText} from '../text/number-text.ts';
import {wrapText} from '../text/wrap-text.ts';
import {placeText, whenText} from './finding-text.ts';

/** Figures of what was seen: one more than elsewhere, so that it is not taken for the limit it just misses. */
const digits = 4;

/** What a row says at its head. */
const words: Readonly<Record<Why['state'], string>> = {
	found: 'found',
	clear: 'clear',
	waiting: 'waits',
	absent: 'not judged',
};

/**
 * Why a check was not raised, a paragraph of at most `columns` columns for each channel: the gate that refused, what it saw,
 * what it asks. `findings` are the session's.
 *
 * @example
 * whyText(rows, []); // => "ring  clear (ratio): saw 0.9412, asks at most 0.3 of the other fingers' median span.\n"
 */
export function whyText(rows: readonly Why[], findings: readonly Finding[], columns = 80): string {
	const nameWidth = Math.max(...rows.map(row => placeOf(row).length)) + 2;
	return rows
		.flatMap(row => wrapText(sentence(row, findings), columns, placeOf(row).padEnd(nameWidth), ' '.repeat(nameWidth)))
		.map(line => `${line}\n`)
		.join('');
}

function placeOf(row: Why): string {
	return escapeText(placeText(row), 24);
}

function sentence(row: Why, findings: readonly Finding[]): string {
	const {code, channel, state, way, gate, saw, asks, seen, needed, next} = row;
	const finding = findings.find(each => each.code === code && each.channel === channel);
	const when = finding === undefined ? '' : whenText(finding);
	if (state === 'found') return `found, ${when}.`;
	const where = [way, gate && gateWords(gate)].filter(word => word !== null).join(', ');
	const figure = typeof saw === 'number' ? figureText(saw, digits) : saw;
	const said = figure === null ? '' : `saw ${escapeText(figure)}, `;
	const chance = next === null ? '' : ` Next: ${next} (${seen} of ${needed}).`;
	const before = when === '' ? '' : ` It was found before: ${when}.`;
	return `${words[state]} (${where}): ${said}asks ${asks}.${chance}${before}`;
}
