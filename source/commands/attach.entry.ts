import type {CommandEntry} from '../command-line/command-entry.ts';
import {lineOptions, port, screenOptions} from '../command-line/shared-entries.ts';

/** `glovebench attach`, as help, completions, the manual page and the reading of the command line know it. */
export const attachEntry: CommandEntry = {
	name: 'attach',
	summary: 'Shows a glove live: every channel, and faults as they happen',
	arguments: [port, {...port, name: 'SECOND', optional: true, help: 'A second glove beside the first.'}],
	options: [...lineOptions, 'record', 'force', 'bell', 'page', ...screenOptions],
	examples: [
		{line: 'glovebench attach /dev/ttyUSB0', does: 'the glove on that port'},
		{line: 'glovebench attach COM5 --record left.gbrec', does: 'and keeps everything received'},
		{line: 'glovebench attach tcp://glove.local:3333', does: 'a glove on the network'},
	],
};
