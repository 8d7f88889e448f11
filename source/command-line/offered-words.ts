import type {ArgumentEntry, OptionEntry} from '../command-table.ts';
import {faults} from '../faults/registry.ts';

/** What an argument or the value of an option can be, for the shells to offer; empty where anything can. */
export function offeredWords({kind, words}: Pick<ArgumentEntry | OptionEntry, 'kind' | 'words'>): readonly string[] {
	return kind === 'code' ? faults.map(({code}) => code) : (words ?? []);
}
