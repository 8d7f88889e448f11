import type {ArgumentEntry} from '../command-table.ts';
import {faults} from '../faults/registry.ts';

/** What an argument can be, for the shells to offer; empty where anything can. */
export function argumentWords({kind, words}: ArgumentEntry): readonly string[] {
	return kind === 'code' ? faults.map(({code}) => code) : (words ?? []);
}
