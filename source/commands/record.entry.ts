import type {CommandEntry} from '../command-line/command-entry.ts';
import {port} from '../command-line/shared-entries.ts';

/** `glovebench record`, as help, completions, the manual page and the reading of the command line know it. */
export const recordEntry: CommandEntry = {
	name: 'record',
	meanings: {
		output: 'The recording to write: .gbrec, or .gbrec.gz for a compressed one.',
		for: 'How long to record; until then a port that goes is waited for, and status 1 tells that it was not reached. Default: until stopped or the port goes.',
	},
	summary: 'Records a glove without a screen, until stopped or for a time',
	arguments: [port],
	options: ['output', 'for', 'rotate', 'note', 'force', 'reattach', 'sheet', 'baud', 'rate', 'reset'],
	examples: [
		{line: 'glovebench record /dev/ttyUSB0 -o left.gbrec', does: 'until Ctrl-C'},
		{line: 'glovebench record /dev/ttyUSB0 -o rig.gbrec --rotate 1h', does: 'an hour to a file, on and on'},
		{line: 'glovebench record /dev/ttyUSB0 -o left.gbrec.gz --for 5m', does: 'five minutes, compressed'},
	],
};
