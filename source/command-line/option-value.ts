import {CannotError} from '../cannot-error.ts';
import {parseDuration} from '../text/parse-duration.ts';
import type {OptionEntry} from './option-entry.ts';

/** What a command receives for an option. */
export type OptionValue = boolean | number | string | readonly string[];

function takes(entry: OptionEntry): string {
	if (entry.kind === 'choice') return `one of ${entry.words?.join(', ')}`;
	return entry.takes ?? (entry.kind === 'file' ? 'the name of a file' : 'a value');
}

/** The error for a value that an option cannot take. `text` is undefined where no value was given. */
export function badValue(name: string, entry: OptionEntry, text: string | undefined): CannotError {
	return new CannotError(
		text === undefined || text === ''
			? `--${name} needs a value: it takes ${takes(entry)}.`
			: `--${name} must not be ${JSON.stringify(text)}: it takes ${takes(entry)}.`,
	);
}

/**
 * Reads the value of an option that takes one: a number for `whole` and `number`, seconds for `duration`, text for
 * the rest. Throws `CannotError` with one line that names the option, the value and what would be right.
 */
export function readOptionValue(name: string, entry: OptionEntry, text: string): number | string {
	if (text === '') throw badValue(name, entry, text);
	if (entry.words?.includes(text)) return text;
	const instead = entry.instead?.(text);
	if (instead !== undefined) throw new CannotError(`--${name} must not be ${JSON.stringify(text)}: ${instead}.`);
	switch (entry.kind) {
		case 'whole':
		case 'number': {
			const shape = entry.kind === 'whole' ? /^\d+$/ : /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;
			const value = Number(text);
			const {least = Number.NEGATIVE_INFINITY, most = Number.POSITIVE_INFINITY} = entry;
			if (!shape.test(text) || !(value >= least && value <= most)) throw badValue(name, entry, text);
			return value;
		}

		case 'duration':
			// Whoever leaves the unit out means seconds.
			return parseDuration(/^\d+(?:\.\d+)?$/.test(text) ? `${text}s` : text, `--${name}`);

		case 'choice':
			throw badValue(name, entry, text);
		default:
			return text;
	}
}
