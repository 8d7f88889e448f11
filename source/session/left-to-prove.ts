import {listText} from '../text/list-text.ts';
import type {ChannelView} from './snapshot.ts';

/** Channels that are to be proven and are not, in scan order. */
export function leftToProve(channels: readonly ChannelView[]): ChannelView[] {
	return channels.filter(
		({role, state}) =>
			(role === 'finger' || role === 'stick' || role === 'button') && state !== 'proven' && state !== 'spare',
	);
}

/**
 * What is left to prove, with what to do about each; channels that want the same are told together. Empty where
 * everything is proven.
 *
 * @example
 * leftToProveText(channels); // => 'ring (move it), stick-x and stick-y (push them to both sides)'
 */
export function leftToProveText(channels: readonly ChannelView[]): string {
	const groups = new Map<string, string[]>();
	for (const channel of leftToProve(channels)) {
		const what = whatProves(channel);
		groups.set(what, [...(groups.get(what) ?? []), channel.name]);
	}

	return [...groups]
		.map(([what, names]) => `${listText(names)} (${names.length === 1 ? what : what.replace(/\bit\b/, 'them')})`)
		.join(', ');
}

/** Check-values D2, in a few words: what makes a channel proven from the state that it is in. */
function whatProves({role, state}: ChannelView): string {
	if (state === 'open') return 'wire it';
	if (state === 'lost' || state === 'faulty') return 'mend it';
	if (role === 'button') return 'press it twice';
	return role === 'stick' ? 'push it to both sides' : 'move it';
}
