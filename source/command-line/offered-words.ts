import {faults} from '../faults/registry.ts';
import type {ArgumentEntry} from './command-entry.ts';
import type {OptionEntry} from './option-entry.ts';

const fingers = ['thumb', 'index', 'middle', 'ring', 'little'];
const axes = ['stick-x', 'stick-y'];
const buttons = ['button-1', 'button-2'];

/** Names that a glove's channels usually have, by what a finding is told of; the link has none. */
const channels: Readonly<Record<(typeof faults)[number]['scope'], readonly string[]>> = {
	finger: fingers,
	stick: axes,
	analog: [...fingers, ...axes],
	button: buttons,
	link: [],
};

/**
 * What an argument or the value of an option can be, for the shells to offer; empty where anything can. Where a channel may
 * follow a code, each code comes alone and with every channel that it can be found on.
 */
export function offeredWords({
	kind,
	words,
	...entry
}: Pick<ArgumentEntry | OptionEntry, 'kind' | 'words'> & {readonly value?: string}): readonly string[] {
	if (kind !== 'code') return words ?? [];
	// An option takes a code with a channel, the argument of `explain` a code alone.
	if (entry.value === undefined) return faults.map(({code}) => code);
	return faults.flatMap(({code, scope}) => [code, ...channels[scope].map(name => `${code}:${name}`)]);
}
