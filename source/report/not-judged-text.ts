import type {CheckRow} from '../session/snapshot.ts';
import {listText} from '../text/list-text.ts';

/** Movements told, and checks named for each: the rest is in the JSON. */
const mostMovements = 4;
const mostNamed = 3;

/**
 * The checks that wait for a movement, in a line: each movement with what it would show. Empty where nothing waits.
 *
 * @example
 * notJudgedText(checks); // => 'Not judged yet: narrow-span, reversed-sensor and 3 more (open and close the whole hand).'
 */
export function notJudgedText(checks: readonly CheckRow[]): string {
	const codesByMovement = new Map<string, Set<string>>();
	for (const {state, code, next} of checks) {
		if (state !== 'waiting' || next === null) continue;
		const codes = codesByMovement.get(next) ?? new Set();
		codesByMovement.set(next, codes.add(code));
	}

	const movements = [...codesByMovement].sort(([, some], [, others]) => others.size - some.size);
	const told = movements.slice(0, mostMovements).map(([next, codes]) => {
		const named =
			codes.size > mostNamed
				? [...[...codes].slice(0, mostNamed - 1), `${codes.size - mostNamed + 1} more`]
				: [...codes];
		return `${listText(named)} (${next})`;
	});
	const left = movements.length - told.length;
	if (told.length === 0) return '';
	return `Not judged yet: ${told.join(', ')}${left > 0 ? `, and what ${left} other movements would show` : ''}.`;
}
