import {wrapText} from '../text/wrap-text.ts';
import type {CommandEntry} from './command-entry.ts';
import {groupedOptions, optionOf} from './command-options.ts';
import {commandTable} from './command-table.ts';
import type {OptionEntry} from './option-entry.ts';
import {commonOptions, type OptionName, optionTable} from './option-table.ts';

const widthColumns = 80;

/** Rows of a term and what it means, in two columns; a term too long for its column gets a line of its own. */
function definitionList(rows: readonly (readonly [string, string])[]): string {
	const termWidth = Math.min(26, Math.max(...rows.map(([term]) => term.length)));
	return rows
		.map(([term, meaning]) => {
			const lines = wrapText(meaning, widthColumns - termWidth - 4);
			const head = term.length > termWidth ? [`  ${term}`] : [];
			const body = lines.map((line, index) =>
				`  ${(index === 0 && head.length === 0 ? term : '').padEnd(termWidth)}  ${line}`.trimEnd(),
			);
			return [...head, ...body].join('\n');
		})
		.join('\n');
}

/** `-o, --output FILE`, as the help and the manual page show it. */
export function optionUsage(name: OptionName, entry: OptionEntry): string {
	const long = entry.on ? `--no-${name}` : `--${name}`;
	return `${entry.short ? `-${entry.short}, ` : ''}${long}${entry.value ? ` ${entry.value}` : ''}`;
}

/** The option's sentence with its words, its default for this command, and whether it can be repeated. */
export function optionMeaning(name: OptionName, entry: OptionEntry, command?: CommandEntry): string {
	const fallback = command?.defaults?.[name];
	return [
		command?.meanings?.[name] ?? entry.help,
		entry.kind === 'choice' ? `One of ${entry.words?.join(', ')}.` : '',
		entry.multiple ? 'May be given more than once.' : '',
		fallback === undefined ? '' : `Default: ${fallback}.`,
	]
		.filter(Boolean)
		.join(' ');
}

/** `glovebench check SOURCE [options]`. */
export function commandUsage(command: CommandEntry): string {
	const words = command.arguments.map(({name, optional, multiple}) => {
		const word = multiple ? `${name}…` : name;
		return optional ? `[${word}]` : word;
	});
	return ['glovebench', command.name, ...words, '[options]'].join(' ');
}

/** Exit statuses and what they mean, for the help and the manual page. */
export const exitStatuses: readonly (readonly [string, string])[] = [
	['0', 'nothing at failure or out-of-spec'],
	['1', 'something was found at those'],
	['2', 'what was asked could not be done; one line on standard error says why'],
	['130', 'stopped with Ctrl-C'],
];

/** `glovebench --help`. */
export function generalHelp(description: string): string {
	return [
		...wrapText(`glovebench: ${description}`, widthColumns),
		'',
		'Usage: glovebench <command> [source] [options]',
		'',
		'Commands',
		definitionList(commandTable.map(({name, summary}) => [name, `${summary}.`])),
		'',
		'A source is a serial port (/dev/ttyUSB0, COM5), tcp://host:port, - for standard',
		'input, a recording, or a plain text log.',
		'',
		'Options of every command',
		definitionList(commonOptions.map(name => [optionUsage(name, optionTable[name]), optionTable[name].help])),
		'',
		'Exit status',
		definitionList(exitStatuses),
		'',
		'glovebench <command> --help says more, with examples.',
		'',
	].join('\n');
}

/** `glovebench <command> --help`. */
export function commandHelp(command: CommandEntry): string {
	const section = (title: string, rows: readonly (readonly [string, string])[]) =>
		rows.length > 0 ? ['', title, definitionList(rows)] : [];
	const meaning = (name: OptionName): readonly [string, string] => [
		optionUsage(name, optionOf(command, name)),
		optionMeaning(name, optionOf(command, name), command),
	];
	return [
		`${command.summary}.`,
		'',
		`Usage: ${commandUsage(command)}`,
		'',
		'Examples',
		...command.examples.flatMap(({line, does}) => [`  ${line}`, `      ${does}`]),
		...(command.notes ?? []).flatMap(note => ['', ...wrapText(note, widthColumns)]),
		...section(
			'Arguments',
			command.arguments.map(({name, help}) => [name, help]),
		),
		...groupedOptions(command).flatMap(([title, names]) => section(title, names.map(meaning))),
		'',
	].join('\n');
}
