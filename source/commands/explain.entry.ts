import type {CommandEntry} from '../command-line/command-entry.ts';

/** `glovebench explain`, as help, completions, the manual page and the reading of the command line know it. */
export const explainEntry: CommandEntry = {
	name: 'explain',
	summary: 'Says what a finding means, what to measure and how to mend it',
	notes: ['Without a code it lists them all.'],
	arguments: [{name: 'CODE', kind: 'code', optional: true, help: "A finding's code, such as floating-input."}],
	options: ['symptom', 'all', 'json', 'markdown'],
	examples: [
		{line: 'glovebench explain', does: 'every code in a line'},
		{line: 'glovebench explain floating-input', does: 'one of them in full'},
		{line: "glovebench explain --symptom 'ring jumps'", does: 'the codes that it may be'},
	],
};
