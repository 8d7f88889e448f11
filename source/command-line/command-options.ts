import {baudRange} from '../baud-range.ts';
import type {CommandEntry} from './command-entry.ts';
import type {OptionEntry} from './option-entry.ts';
import {commonOptions, type OptionName, optionTable} from './option-table.ts';
import {looksOptions} from './options/looks-options.ts';
import {otherOptions} from './options/other-options.ts';
import {outputOptions} from './options/output-options.ts';
import {readingOptions} from './options/reading-options.ts';

/** Speeds as of a line that is not open: there is nothing to try them on. */
const baudOfFile: OptionEntry = {
	kind: 'whole',
	value: 'RATE',
	...baudRange,
	takes: 'a whole number such as 115200',
	help: "Speed of the serial line it came over. Default: the recording's or the sheet's, else 115200.",
};

/** An option as a command has it: `--baud auto` needs a port, which only commands with `--no-reset` open. */
export function optionOf(command: CommandEntry, name: OptionName): OptionEntry {
	if (name === 'baud' && !command.options.includes('reset')) return baudOfFile;
	return command.variants?.[name] ?? optionTable[name];
}

/** Options in help, by what they are about, in the order in which help lists them. */
const optionGroups: readonly (readonly [title: string, names: readonly string[]])[] = [
	['Reading', Object.keys(readingOptions)],
	['Output', Object.keys(outputOptions)],
	['Looks', Object.keys(looksOptions)],
	['Other options', Object.keys(otherOptions)],
];

/** The options of a command by group, in the order of the groups, then of the command. */
export function groupedOptions(
	command: CommandEntry,
): readonly (readonly [title: string, names: readonly OptionName[]])[] {
	const names = [...command.options, ...commonOptions];
	return optionGroups
		.map(([title, each]): [string, OptionName[]] => [title, names.filter(name => each.includes(name))])
		.filter(([, each]) => each.length > 0);
}
