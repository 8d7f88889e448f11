import type {CommandEntry} from '../command-line/command-entry.ts';
import {screenOptions} from '../command-line/shared-entries.ts';

/** `glovebench demo`, as help, completions, the manual page and the reading of the command line know it. */
export const demoEntry: CommandEntry = {
	name: 'demo',
	summary: 'Shows a simulated glove whose faults come and go; needs no hardware',
	notes: ["Without a terminal it prints check's report on the same session. Its faults are intended: status 0."],
	arguments: [],
	options: ['json', 'markdown', 'full', 'record', 'force', 'bell', 'page', ...screenOptions],
	examples: [{line: 'glovebench demo', does: 'the left hand of a puppet dragon'}],
};
