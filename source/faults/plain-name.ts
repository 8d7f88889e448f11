import {findFault} from './registry.ts';

/** A finding in words, for a sentence: `"too little travel" on ring`; an unknown code as it is. */
export function plainName(code: string, channel: string | null = null): string {
	const words = `"${findFault(code)?.title ?? code}"`;
	return channel === null ? words : `${words} on ${channel}`;
}
