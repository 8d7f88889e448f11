import type {CommandEntry} from '../command-line/command-entry.ts';
import {source, sourceOptions} from '../command-line/shared-entries.ts';

/** `glovebench fit`, as help, completions, the manual page and the reading of the command line know it. */
export const fitEntry: CommandEntry = {
	name: 'fit',
	summary: "From a session: each finger's range, stick centre and dead zone, smoothing",
	notes: ['Prints settings to put into the firmware. A port is read for --for.'],
	meanings: {for: 'How long to read a port. Default: 1m.', header: 'Prints a C header.'},
	arguments: [source],
	options: [...sourceOptions, 'for', 'session', 'json', 'header'],
	examples: [
		{line: 'glovebench fit left.gbrec', does: 'settings as text'},
		{line: 'glovebench fit left.gbrec --header > glove-settings.h', does: 'as a header for the firmware'},
	],
};
