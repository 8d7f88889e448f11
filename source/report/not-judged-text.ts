import type {CheckRow, Snapshot} from '../session/snapshot.ts';
import {listText} from '../text/list-text.ts';

/** Movements told, and checks named for each: the rest is in the JSON. */
const mostMovements = 4;
const mostNamed = 3;

/** Stands for the channels in a movement that names its own. */
const place = '\0';

type Movement = {readonly codes: Set<string>; readonly channels: Set<string>};

/**
 * The checks that wait for a movement, in a line: each movement with what it would show. Empty where nothing waits.
 *
 * @example
 * notJudgedText(snapshot); // => 'Not judged yet: narrow-span, reversed-sensor and 3 more (open and close the whole hand).'
 */
export function notJudgedText({checks, channels}: Pick<Snapshot, 'checks' | 'channels'>): string {
	const proven = new Set(channels.filter(({state}) => state === 'proven').map(({name}) => name));
	const movements = new Map<string, Movement>();
	for (const row of checks) {
		const {state, code, channel, next} = row;
		if (state !== 'waiting' || next === null || isMoot(row, proven)) continue;
		const movement = channel === null ? next : next.replaceAll(channel, place);
		const known = movements.get(movement) ?? {codes: new Set(), channels: new Set()};
		known.codes.add(code);
		if (channel !== null) known.channels.add(channel);
		movements.set(movement, known);
	}

	const sorted = [...movements].sort(([, one], [, other]) => other.codes.size - one.codes.size);
	const told = sorted.slice(0, mostMovements).map(textOf);
	const left = sorted.length - told.length;
	if (told.length === 0) return '';
	const rest = left === 0 ? '' : `, and what ${left === 1 ? 'another movement' : `${left} other movements`} would show`;
	return `Not judged yet: ${told.join(', ')}${rest}.`;
}

/** That a channel lies still while the hand moves begins anew with each of its movements: one that moves waits for nothing. */
function isMoot({code, channel}: CheckRow, proven: ReadonlySet<string>): boolean {
	return code.startsWith('stuck-') && channel !== null && proven.has(channel);
}

function textOf([movement, {codes, channels}]: readonly [string, Movement]): string {
	const more = codes.size - mostNamed + 1;
	const named = more > 1 ? [...[...codes].slice(0, mostNamed - 1), `${more} more`] : [...codes];
	return `${listText(named)} (${movement.replaceAll(place, () => listText([...channels]))})`;
}
