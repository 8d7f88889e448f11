import type {CommandEntry} from '../command-line/command-entry.ts';

/** `glovebench sheet`, as help, completions, the manual page and the reading of the command line know it. */
export const sheetEntry: CommandEntry = {
	name: 'sheet',
	summary: 'Writes and checks the file that says how a glove is built',
	notes: ['`new` asks when no --board is given and a terminal is there; `keys` prints what may stand in a sheet.'],
	arguments: [
		{name: 'ACTION', kind: 'word', words: ['new', 'check', 'keys'], help: 'One of new, check, keys.'},
		{name: 'FILE', kind: 'file', optional: true, help: 'The sheet to write or to check.'},
	],
	options: ['board', 'name', 'stick', 'buttons', 'link', 'baud', 'spool', 'battery', 'force', 'json'],
	examples: [
		{line: 'glovebench sheet new glove.toml --board atmega328p --buttons 2', does: 'a sheet to start from'},
		{line: 'glovebench sheet check glove.toml', does: 'its mistakes, with their lines'},
		{line: 'glovebench sheet keys', does: 'what may stand in a sheet'},
	],
};
