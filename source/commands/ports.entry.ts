import type {CommandEntry} from '../command-line/command-entry.ts';

/** `glovebench ports`, as help, completions, the manual page and the reading of the command line know it. */
export const portsEntry: CommandEntry = {
	name: 'ports',
	summary: 'Lists the serial ports and what is known of each',
	arguments: [],
	options: ['json'],
	examples: [{line: 'glovebench ports', does: 'maker, USB ids, likely chip; and why one cannot be opened'}],
};
