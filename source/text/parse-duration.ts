import {CannotError} from '../cannot-error.ts';

/** Milliseconds per unit: whole numbers, so that `9ms` is the number 0.009 and not a neighbour of it. */
const millisecondsPer: Readonly<Record<string, number>> = {ms: 1, s: 1000, m: 60_000, h: 3_600_000};

/**
 * Reads a length of time such as `500ms`, `20s`, `2m`, `1.5h`. The unit is required: a bare `20` could be either
 * seconds or milliseconds.
 *
 * @param what How the message names the value, e.g. `--for`.
 * @returns Seconds, finite and not negative.
 * @throws CannotError for anything else.
 *
 * @example
 * parseDuration('500ms'); // => 0.5
 * parseDuration('2m'); // => 120
 */
export function parseDuration(text: string, what = 'A length of time'): number {
	const match = /^(\d+(?:\.\d+)?)(ms|s|m|h)$/.exec(text.trim());
	const seconds = match ? (Number(match[1]) * millisecondsPer[match[2]!]!) / 1000 : Number.NaN;
	if (!Number.isFinite(seconds)) {
		throw new CannotError(
			`${what} must not be ${JSON.stringify(text)}: it takes a number with its unit, such as 500ms, 20s, 2m or 1h.`,
		);
	}

	return seconds;
}
