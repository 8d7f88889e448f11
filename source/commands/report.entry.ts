import type {CommandEntry} from '../command-line/command-entry.ts';
import {fileOptions} from '../command-line/shared-entries.ts';

/** `glovebench report`, as help, completions, the manual page and the reading of the command line know it. */
export const reportEntry: CommandEntry = {
	name: 'report',
	summary: 'Makes one page of a recording, a bring-up, a mount, or two recordings',
	notes: [
		'A page of a recording says what check says; of a recorded bring-up, which its marks tell, what bringup says; of two recordings, what compare says; of what mount --json printed, the offset. It needs nothing else, runs no script, and opens from a mail. The exit status is that of the command.',
	],
	arguments: [
		{name: 'RECORDING', kind: 'file', help: 'A recording or a text log, - for standard input.'},
		{name: 'SECOND', kind: 'file', optional: true, help: 'A second one to hold against the first.'},
	],
	options: [...fileOptions, 'session', 'output', 'svg'],
	meanings: {
		output: "The page to write, - for standard output. Default: the recording's name with .html, in this folder.",
	},
	examples: [
		{line: 'glovebench report left.gbrec', does: 'left.html'},
		{line: 'glovebench report before.gbrec after.gbrec -o repair.html', does: 'what the repair changed'},
		{line: 'glovebench report left.gbrec --svg charts', does: 'and each chart as a picture of its own'},
	],
};
