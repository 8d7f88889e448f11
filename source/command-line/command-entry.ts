import type {OptionEntry} from './option-entry.ts';
import type {OptionName} from './option-table.ts';

/** One positional argument. `kind` tells the shells what to complete. */
export type ArgumentEntry = {
	readonly name: string;
	readonly kind: 'source' | 'port' | 'file' | 'word' | 'code';
	readonly words?: readonly string[];
	readonly optional?: boolean;
	/** May be given more than once (the last argument only); the values arrive as a list. */
	readonly multiple?: boolean;
	readonly help: string;
};

/** One command. Help, checks of what was typed, completions and the manual page are all made from this. */
export type CommandEntry = {
	readonly name: string;
	/** What it does, in half a line. */
	readonly summary: string;
	/** What else there is to know, a paragraph each. */
	readonly notes?: readonly string[];
	readonly arguments: readonly ArgumentEntry[];
	readonly options: readonly OptionName[];
	/** Defaults of this command, written as on the command line. */
	readonly defaults?: Partial<Record<OptionName, string>>;
	/** Options that this command takes other values for than the rest do. */
	readonly variants?: Partial<Record<OptionName, OptionEntry>>;
	/** What an option says in this command's help instead of its usual sentence. */
	readonly meanings?: Partial<Record<OptionName, string>>;
	readonly examples: readonly {readonly line: string; readonly does: string}[];
};
