import type {CommandEntry} from '../command-line/command-entry.ts';

/** `glovebench plan`, as help, completions, the manual page and the reading of the command line know it. */
export const planEntry: CommandEntry = {
	name: 'plan',
	summary: 'Tells from the sheet, before building, what will not work and what to expect',
	arguments: [{name: 'SHEET', kind: 'file', help: 'The sheet (.toml).'}],
	options: ['json'],
	examples: [{line: 'glovebench plan glove.toml', does: 'pins, converter, link, current, battery time'}],
};
