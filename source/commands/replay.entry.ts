import type {CommandEntry} from '../command-line/command-entry.ts';
import {fileOptions, screenOptions} from '../command-line/shared-entries.ts';

/** `glovebench replay`, as help, completions, the manual page and the reading of the command line know it. */
export const replayEntry: CommandEntry = {
	name: 'replay',
	summary: 'Shows a recording or log like a live glove: hold, step, seek',
	arguments: [
		{name: 'FILE', kind: 'file', help: 'A recording or a text log.'},
		{name: 'SECOND', kind: 'file', optional: true, help: 'A second recording beside the first.'},
	],
	options: [...fileOptions, 'session', 'at', 'page', 'hold', 'speed', ...screenOptions],
	examples: [
		{line: 'glovebench replay left.gbrec', does: 'from the start'},
		{line: 'glovebench replay left.gbrec --at 90s --hold', does: 'held at a minute and a half'},
	],
};
