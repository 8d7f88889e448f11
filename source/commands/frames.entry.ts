import type {CommandEntry} from '../command-line/command-entry.ts';
import type {OptionEntry} from '../command-line/option-entry.ts';
import {source, sourceOptions} from '../command-line/shared-entries.ts';
import {frameFormats} from '../frames/frame-words.ts';

/** Forms in which readings go to other programs, where `simulate` writes what a board does. */
const formatOfReadings: OptionEntry = {
	kind: 'choice',
	value: 'FORMAT',
	words: frameFormats,
	help: 'csv and tsv with a head and the time first, ndjson (an object a line), comma and labels as boards print them. Default: csv.',
};

/** `glovebench frames`, as help, completions, the manual page and the reading of the command line know it. */
export const framesEntry: CommandEntry = {
	name: 'frames',
	summary: 'The readings themselves for other programs: a table, lines, or a live stream',
	notes: [
		'Times are seconds from the start of the source. Damaged lines are left out and counted; what else a table of readings cannot hold is said on standard error. With --listen or --websocket nothing is printed unless -o names a file; a reader that is too slow is dropped.',
	],
	arguments: [source],
	options: [
		...sourceOptions,
		'reattach',
		'for',
		'session',
		'format',
		'line',
		'values',
		'columns',
		'resample',
		'bits',
		'stamp',
		'output',
		'force',
		'listen',
		'websocket',
		'host',
	],
	variants: {format: formatOfReadings},
	meanings: {
		for: 'How long to read. Default: to the end, or until stopped.',
		session: 'Which of the sessions that a log holds. Default: the last; through a pipe, all.',
		stamp: 'With --format comma or labels: writes seconds before every line.',
		listen: 'Serves live readings on this port of this machine, 0 for any free one.',
		host: 'The address to listen on, so that other machines can connect: whoever does can read the hand. Default: 127.0.0.1, which only this machine reaches.',
	},
	examples: [
		{line: 'glovebench frames left.gbrec -o left.csv', does: 'a table for a notebook or a spreadsheet'},
		{line: "glovebench frames COM5 --line 'T{thumb} I{index}'", does: 'lines as another program wants them'},
		{line: 'glovebench frames /dev/ttyUSB0 --listen 4000', does: 'live readings at tcp://127.0.0.1:4000'},
		{line: 'glovebench frames left.gbrec --values bend --sheet left.toml', does: '0 = open, 1 = closed'},
	],
};
