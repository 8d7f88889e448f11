import type {CommandEntry} from '../command-line/command-entry.ts';

/** `glovebench share`, as help, completions, the manual page and the reading of the command line know it. */
export const shareEntry: CommandEntry = {
	name: 'share',
	summary: 'Copies a recording without names, notes and date, cut to what its findings need',
	notes: [
		'Source name, notes, marks and date go; what the glove sent stays. The copy is read back, and its findings are set beside the original. Without --from, --to or --all it keeps what stands around the findings.',
	],
	arguments: [{name: 'RECORDING', kind: 'file', help: 'A recording or a text log.'}],
	options: ['output', 'from', 'to', 'all', 'list', 'force', 'sheet', 'baud', 'rate'],
	meanings: {
		output: 'The copy to write: .gbrec, or .gbrec.gz for a compressed one.',
		from: 'Where the span begins whose findings stay; up to 2m before it are kept where they need it.',
		to: 'Where the copy ends.',
		all: 'Keeps the whole length.',
		list: 'Lists all kinds of text that stay in the copy, not only the first five.',
	},
	examples: [
		{line: 'glovebench share left.gbrec -o to-send.gbrec.gz', does: 'what the findings need, compressed'},
		{line: 'glovebench share left.gbrec -o to-send.gbrec --from 2m --to 3m', does: 'that minute'},
	],
};
