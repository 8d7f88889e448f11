import {CannotError} from '../cannot-error.ts';
import {escapeText} from '../text/escape-text.ts';
import type {Channel, ChannelRole, Framing} from './layout.ts';
import {readLabel} from './read-label.ts';

/** What `--layout` fixes: the framing, the channels, or both. */
export type ForcedLayout = {
	readonly framing: Framing | null;
	/** Empty where only the framing is given. */
	readonly channels: readonly Channel[];
	/** True where a clock's unit was not given and has to be found out. */
	readonly findClockUnit: boolean;
};

const framings: readonly Framing[] = ['text', 'json', 'slip', 'cobs'];
const exactNames: Readonly<Record<string, ChannelRole>> = {
	thumb: 'finger',
	index: 'finger',
	middle: 'finger',
	ring: 'finger',
	little: 'finger',
	'stick-x': 'stick',
	'stick-y': 'stick',
	counter: 'counter',
	clock: 'clock',
	battery: 'battery',
	spare: 'spare',
};
const clockUnits: Readonly<Record<string, number>> = {us: 1e-6, ms: 0.001, s: 1};

/**
 * Reads `--layout`: channel names in the order of the stream, comma separated, `-` for a column to ignore, with an
 * optional framing in front (`slip:thumb,index,…`, or `cobs:` alone). `clock` may carry its unit: `clock-us`,
 * `clock-ms`, `clock-s`. Usual abbreviations are understood; a second `thumb` becomes `thumb-2`.
 *
 * @throws {CannotError} for an empty list, an unknown framing or an unknown name
 */
export function parseLayoutOption(text: string): ForcedLayout {
	const colon = text.indexOf(':');
	const prefix = colon < 0 ? null : text.slice(0, colon).trim().toLowerCase();
	if (prefix !== null && !framings.includes(prefix as Framing))
		throw new CannotError(
			`--layout must not begin with "${escapeText(prefix, 40)}:": the framing is one of ${framings.join(', ')}, or left out.`,
		);
	const framing = prefix as Framing | null;
	const list = text.slice(colon + 1).trim();
	if (list === '' && framing !== null) return {framing, channels: [], findClockUnit: false};
	const names = list.split(',').map(name => name.trim());
	if (names.some(name => name === ''))
		throw new CannotError(
			`--layout must not be "${escapeText(text, 60)}": it names every column in order, such as thumb,index,middle,ring,little (- for one to ignore).`,
		);
	const used = new Set<string>();
	const channels: Channel[] = [];
	for (const [index, name] of names.entries()) {
		const {base, role, clockUnitSeconds} = readName(name);
		let unique = base.endsWith('-') ? `${base}1` : base;
		const stem = base.endsWith('-') ? base : `${base}-`;
		for (let i = 2; used.has(unique); i++) unique = `${stem}${i}`;
		used.add(unique);
		channels.push({
			index,
			name: unique,
			role,
			by: 'declared',
			...(clockUnitSeconds === undefined ? {} : {clockUnitSeconds}),
		});
	}

	return {
		framing,
		channels,
		findClockUnit: names.some(name => name.toLowerCase() === 'clock'),
	};
}

type Named = {readonly base: string; readonly role: ChannelRole; readonly clockUnitSeconds?: number};

/** A base ending in `-` is numbered from 1. */
function readName(name: string): Named {
	const exact = readExactName(name.toLowerCase());
	if (exact !== undefined) return exact;
	// Single letters are fingers here: whoever writes them means the glove.
	const meaning = /[^\w .#-]/.test(name) ? undefined : readLabel(name, [name, 't', 'i', 'm', 'r']);
	if (meaning === undefined || meaning.name === 'finger' || meaning.role === 'spare')
		throw new CannotError(
			`--layout does not know "${escapeText(name, 40)}": it takes ${Object.keys(exactNames).join(', ')}, button-1 and so on, or - for a column to ignore.`,
		);
	if (meaning.role === 'button')
		return {base: meaning.ordinal === undefined ? 'button-' : `button-${meaning.ordinal}`, role: 'button'};
	return meaning.clockUnitSeconds === undefined
		? {base: meaning.name, role: meaning.role}
		: {base: meaning.name, role: meaning.role, clockUnitSeconds: meaning.clockUnitSeconds};
}

/** A name as reports write it; undefined for any other. */
function readExactName(lower: string): Named | undefined {
	if (lower === '-') return {base: 'spare-', role: 'spare'};
	const numbered = /^(.+?)-(\d{1,3})$/.exec(lower);
	const stem = numbered?.[1] ?? lower;
	if (Object.hasOwn(exactNames, stem)) {
		if (stem === 'spare') return {base: numbered === null ? 'spare-' : lower, role: 'spare'};
		if (stem === 'clock') return {base: lower, role: 'clock', clockUnitSeconds: 0.001};
		return {base: lower, role: exactNames[stem]};
	}

	if (stem === 'button') return {base: numbered === null ? 'button-' : lower, role: 'button'};
	const clock = /^clock-(us|ms|s)$/.exec(lower);
	return clock === null ? undefined : {base: 'clock', role: 'clock', clockUnitSeconds: clockUnits[clock[1]]};
}
