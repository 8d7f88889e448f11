import type {CommandEntry} from '../command-line/command-entry.ts';
import {source, sourceOptions} from '../command-line/shared-entries.ts';

/** `glovebench link`, as help, completions, the manual page and the reading of the command line know it. */
export const linkEntry: CommandEntry = {
	name: 'link',
	summary: 'Walk test of a link: loss, delay and outages, stretch by stretch',
	notes: [
		'No screen is needed: put the glove on and walk. Each press of a button of the glove (or three quick fists) sets a mark in the stream itself, such as one a metre, or one a room; the table then goes from mark to mark, else by time. A counter in the frames tells losses exactly, a clock of the board tells delays. Do not walk on stairs with a trailing cable.',
	],
	arguments: [source],
	options: [...sourceOptions, 'for', 'session', 'window', 'mark', 'other', 'json', 'html'],
	meanings: {
		for: 'How long to read a port. Default: until Ctrl-C, which ends the walk and prints the table.',
		html: 'Also writes the account as one self-contained page.',
	},
	examples: [
		{line: 'glovebench link /dev/ttyUSB0', does: 'until Ctrl-C, then the table'},
		{line: 'glovebench link walk.gbrec --mark button-1 --html walk.html', does: 'from press to press, and a page'},
		{line: 'glovebench link radio.gbrec --other cable.gbrec', does: 'the radio beside the cable'},
	],
};
