import {findFault} from './registry.ts';

/** A finding by its code, as lists name it: `narrow-span on ring`. */
export function findingName({code, channel}: {readonly code: string; readonly channel: string | null}): string {
	return channel === null ? code : `${code} on ${channel}`;
}

/** The title of a finding in the catalogue; an unknown code, as of a report of another version, is its own. */
export function titleOf(code: string): string {
	return findFault(code)?.title ?? code;
}

/** A finding in words, for a sentence: `"too little travel" on ring`; an unknown code as it is. */
export function plainName(code: string, channel: string | null = null): string {
	const words = `"${titleOf(code)}"`;
	return channel === null ? words : `${words} on ${channel}`;
}
