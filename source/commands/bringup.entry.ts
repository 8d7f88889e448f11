import type {CommandEntry} from '../command-line/command-entry.ts';
import {screenOptions, sourceOptions} from '../command-line/shared-entries.ts';

/** `glovebench bringup`, as help, completions, the manual page and the reading of the command line know it. */
export const bringUpEntry: CommandEntry = {
	name: 'bringup',
	summary: 'Guides through the acceptance of a glove: each reel, the hand, stick, buttons',
	notes: [
		'Prompts for one movement after the other and goes on by itself when it has seen it; it waits for ever, and through a pulled cable. On a recording it prints what it saw. Ends with a pass/fail table; -o writes the sheet as built. Broken off, it goes on where it stopped.',
	],
	meanings: {
		output: 'Where the sheet as built goes (.toml).',
		record: 'Keeps everything received in this recording.',
	},
	arguments: [{name: 'PORT', kind: 'source', help: 'The port of the glove, or a recording of a bring-up.'}],
	options: [...sourceOptions, 'output', 'force', 'fresh', 'ruler', 'record', 'html', 'json', 'bell', ...screenOptions],
	examples: [
		{line: 'glovebench bringup /dev/ttyUSB0 -o as-built.toml', does: 'the whole routine, on screen'},
		{line: 'glovebench bringup /dev/ttyUSB0 --ruler 5mm', does: 'and each cord along a ruler: a wrong pot shows'},
		{line: 'glovebench bringup visit.gbrec --json', does: 'what a recorded bring-up showed'},
	],
};
