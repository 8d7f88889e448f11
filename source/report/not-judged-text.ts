import type {ChannelView, CheckRow, Snapshot} from '../session/snapshot.ts';
import {listText} from '../text/list-text.ts';

/** Movements told, checks named for each, and channels named for each check: the rest is in the JSON. */
const mostMovements = 3;
const mostNamed = 2;
const mostChannels = 3;

/** Stands for the channels in a movement that names its own. */
const place = '\0';

type Movement = {
	readonly codes: Set<string>;
	readonly channels: Set<string>;
	/** `2 of 6`, each way it stands. */
	readonly counts: Set<string>;
};

/**
 * The checks that wait for a movement, in a line: what, and the movement that would show it, with how far it has come.
 * `most` movements are told, the rest
 * counted. Empty where nothing waits.
 *
 * @example
 * notJudgedText(snapshot);
 * // => 'Not judged yet: narrow-span on ring (open and close the whole hand, 2 of 6 so far), stick (turn it round twice).'
 */
export function notJudgedText({checks, channels}: Pick<Snapshot, 'checks' | 'channels'>, most = mostMovements): string {
	const proven = new Set(channels.filter(({state}) => state === 'proven').map(({name}) => name));
	const movements = new Map<string, Movement>();
	for (const row of checks) {
		const {state, code, channel, next, seen, needed} = row;
		if (state !== 'waiting' || next === null || isMoot(row, proven)) continue;
		const movement = channel === null ? next : next.replaceAll(channel, place);
		const known = movements.get(movement) ?? {codes: new Set(), channels: new Set(), counts: new Set()};
		known.codes.add(code);
		if (channel !== null) known.channels.add(channel);
		known.counts.add(seen > 0 ? `${seen} of ${needed}` : '');
		movements.set(movement, known);
	}

	const sorted = [...movements].sort(([, one], [, other]) => other.codes.size - one.codes.size);
	const told = sorted.slice(0, most).map(([movement, waiting]) => textOf(movement, waiting, channels));
	const left = sorted.length - told.length;
	if (told.length === 0) return '';
	const rest = left === 0 ? '' : `, and what ${left === 1 ? 'another movement' : `${left} other movements`} would show`;
	return `Not judged yet: ${told.join(', ')}${rest}.`;
}

/** That a channel lies still while the hand moves begins anew with each of its movements: one that moves waits for nothing. */
function isMoot({code, channel}: CheckRow, proven: ReadonlySet<string>): boolean {
	return code.startsWith('stuck-') && channel !== null && proven.has(channel);
}

function textOf(
	movement: string,
	{codes, channels, counts}: Movement,
	all: readonly Pick<ChannelView, 'name' | 'role'>[],
): string {
	const where = placesText([...channels], all);
	const checks = codes.size > mostNamed ? `${codes.size} checks` : listText([...codes]);
	// Whichever checks of the stick wait, they wait for the stick.
	const what = where === 'stick' ? where : where === '' ? checks : `${checks} on ${where}`;
	const [count] = counts;
	const soFar = counts.size === 1 && count !== '' ? `, ${count} so far` : '';
	const own = channels.size > mostChannels ? 'each' : listText([...channels]);
	return `${what} (${movement.replaceAll(place, () => own)}${soFar})`;
}

/** `ring`, `all fingers`, `stick`, `6 channels`; empty for the link. */
function placesText(names: readonly string[], all: readonly Pick<ChannelView, 'name' | 'role'>[]): string {
	const named = all.filter(({name}) => names.includes(name));
	if (named.length > 0 && named.every(({role}) => role === 'stick')) return 'stick';
	const fingers = all.filter(({role}) => role === 'finger');
	if (names.length > 1 && named.length === fingers.length && named.every(({role}) => role === 'finger'))
		return 'all fingers';
	return names.length > mostChannels ? `${names.length} channels` : listText(names);
}
