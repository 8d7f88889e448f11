import type {CommandEntry} from '../command-line/command-entry.ts';

const shells = ['bash', 'zsh', 'fish'] as const;

/** `glovebench completions`, as help, completions, the manual page and the reading of the command line know it. */
export const completionsEntry: CommandEntry = {
	name: 'completions',
	summary: 'Prints completions for a shell',
	arguments: [{name: 'SHELL', kind: 'word', words: shells, help: `One of ${shells.join(', ')}.`}],
	options: [],
	examples: [
		{line: 'source <(glovebench completions bash)', does: 'for this bash'},
		{
			line: 'glovebench completions fish > ~/.config/fish/completions/glovebench.fish',
			does: 'for every fish from now on',
		},
	],
};
