import type {CommandEntry} from './command-entry.ts';
import {optionOf} from './command-options.ts';
import {commandTable} from './command-table.ts';
import {offeredWords} from './offered-words.ts';
import {commonOptions, type OptionName, optionTable} from './option-table.ts';

const quoted = (text: string) => `'${text.replaceAll('\\', '\\\\').replaceAll("'", "\\'")}'`;

function optionLine(name: OptionName, condition: string, command?: CommandEntry): string {
	const entry = command === undefined ? optionTable[name] : optionOf(command, name);
	const parts = ['complete -c glovebench', `-n ${quoted(condition)}`, `-l ${entry.on ? `no-${name}` : name}`];
	if (entry.short) parts.push(`-s ${entry.short}`);
	const offered = offeredWords(entry);
	if (offered.length > 0) parts.push(`-x -a ${quoted(offered.join(' '))}`);
	else if (entry.kind === 'file') parts.push('-r -F');
	else if (entry.kind !== 'switch') parts.push('-x');
	parts.push(`-d ${quoted(command?.meanings?.[name] ?? entry.help)}`);
	return parts.join(' ');
}

/** Completions for fish: `glovebench completions fish > ~/.config/fish/completions/glovebench.fish`. */
export function fishCompletions(): string {
	const lines = ['# Completions of glovebench for fish.', 'complete -c glovebench -f'];
	for (const command of commandTable) {
		lines.push(
			`complete -c glovebench -n __fish_use_subcommand -a ${command.name} -d ${quoted(command.summary)}`,
			`complete -c glovebench -n '__fish_seen_subcommand_from help' -a ${command.name}`,
		);
	}

	lines.push(`complete -c glovebench -n __fish_use_subcommand -a help -d 'Explains a command'`);
	for (const command of commandTable) {
		const condition = `__fish_seen_subcommand_from ${command.name}`;
		lines.push(...command.options.map(name => optionLine(name, condition, command)));
		for (const argument of command.arguments) {
			const words = offeredWords(argument);
			if (words.length > 0) {
				lines.push(`complete -c glovebench -n ${quoted(condition)} -a ${quoted(words.join(' '))}`);
			} else if (argument.kind !== 'word') {
				lines.push(`complete -c glovebench -n ${quoted(condition)} -F`);
			}

			if (argument.kind === 'source' || argument.kind === 'port') {
				lines.push(
					`complete -c glovebench -n ${quoted(condition)} -a '(for port in /dev/ttyU* /dev/ttyA*; echo $port; end)'`,
				);
			}
		}
	}

	lines.push(...commonOptions.map(name => optionLine(name, 'true')), '');
	return lines.join('\n');
}
