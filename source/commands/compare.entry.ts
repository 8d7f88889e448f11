import type {CommandEntry} from '../command-line/command-entry.ts';
import {fileOptions} from '../command-line/shared-entries.ts';

/** `glovebench compare`, as help, completions, the manual page and the reading of the command line know it. */
export const compareEntry: CommandEntry = {
	name: 'compare',
	summary: 'Two sessions side by side: span, noise, rate, findings gone and new',
	arguments: [
		{name: 'A', kind: 'source', help: 'A recording or log: before the repair, the left hand, a good one.'},
		{
			name: 'B',
			kind: 'source',
			optional: true,
			help: 'The one to hold against it. Without it A is a log of two or more sessions, of which the last two are compared.',
		},
	],
	options: [...fileOptions, 'json', 'markdown', 'html'],
	examples: [
		{line: 'glovebench compare before.gbrec after.gbrec', does: 'what the repair changed'},
		{line: 'glovebench compare both.txt', does: 'the two sessions in one log'},
	],
};
