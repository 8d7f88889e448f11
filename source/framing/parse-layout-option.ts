import {CannotError} from '../cannot-error.ts';
import {escapeText} from '../escape-text.ts';
import {matchLabel} from './label-roles.ts';
import type {Channel, Framing} from './layout.ts';

export type ForcedLayout = {readonly framing: Framing | null; readonly channels: readonly Channel[]};

const framings: readonly Framing[] = ['text', 'json', 'slip', 'cobs'];

/** Names that the option takes besides numbered ones. */
const plainNames = 'thumb index middle ring little stick-x stick-y counter clock spare';

/**
 * Reads `--layout`: channel names in the order of the stream, comma separated, `-` for a column to ignore, with an
 * optional framing in front (`slip:thumb,index,…`). `clock` may carry its unit: `clock-us`, `clock-ms`, `clock-s`.
 *
 * @throws {CannotError} for an empty list or a name that is none
 */
export function parseLayoutOption(text: string): ForcedLayout {
	const colon = text.indexOf(':');
	const prefix = colon < 0 ? null : text.slice(0, colon).trim().toLowerCase();
	if (prefix !== null && !framings.includes(prefix as Framing)) {
		throw new CannotError(
			`--layout cannot be framed as "${escapeText(prefix, 40)}": try ${framings.join(', ')} before the colon, or no colon.`,
		);
	}
	const names = text
		.slice(colon + 1)
		.split(',')
		.map(name => name.trim())
		.filter((name, _i, all) => name !== '' || all.length > 1);
	if (names.length === 0 || names.some(name => name === '')) {
		throw new CannotError(
			`--layout must not be "${escapeText(text, 60)}": name every column in order, e.g. thumb,index,middle,ring,little (- ignores one).`,
		);
	}
	let spare = 0;
	let buttons = 0;
	const used = new Map<string, number>();
	const channels = names.map((name, index): Channel => {
		if (name === '-' || name === 'spare') return {index, name: `spare-${++spare}`, role: 'spare'};
		const clock = /^clock(?:-(us|ms|s))?$/i.exec(name);
		if (clock !== null) {
			const unit = {us: 1e-6, ms: 0.001, s: 1}[(clock[1] ?? 'ms').toLowerCase()];
			return {index, name: 'clock', role: 'clock', clockUnitSeconds: unit};
		}
		const match = /^[\p{L}\p{N} _.-]+$/u.test(name) ? matchLabel(name) : undefined;
		if (match === undefined)
			throw new CannotError(
				`--layout does not know "${escapeText(name, 40)}": it takes ${plainNames.replaceAll(' ', ', ')}, button-1 … and -.`,
			);
		if (match[1] === 'button') return {index, name: `button-${++buttons}`, role: 'button'};
		const count = (used.get(match[0]) ?? 0) + 1;
		used.set(match[0], count);
		return {index, name: count > 1 ? `${match[0]}-${count}` : match[0], role: match[1]};
	});
	return {framing: prefix as Framing | null, channels};
}
