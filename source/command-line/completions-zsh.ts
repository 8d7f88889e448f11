import type {ArgumentEntry, CommandEntry} from './command-entry.ts';
import {optionOf} from './command-options.ts';
import {commandTable} from './command-table.ts';
import {offeredWords} from './offered-words.ts';
import {commonOptions, type OptionName} from './option-table.ts';

/** Inside single quotes, and safe from the meaning that `[`, `]` and `:` have in an argument specification. */
const described = (text: string) => text.replace(/[[\]:\\]/g, '\\$&').replaceAll("'", "'\\''");

function optionSpecifications(name: OptionName, command: CommandEntry): string[] {
	const entry = optionOf(command, name);
	const spelled = [`--${entry.on ? 'no-' : ''}${name}`, ...(entry.short ? [`-${entry.short}`] : [])];
	const repeat = entry.multiple ? '*' : '';
	const offered = offeredWords(entry);
	const action =
		offered.length > 0
			? `:${entry.value ?? name}:(${offered.join(' ')})`
			: entry.kind === 'file'
				? `:${entry.value ?? 'file'}:_files`
				: entry.kind === 'switch'
					? ''
					: `:${entry.value ?? name}: `;
	return spelled.map(word => `'${repeat}${word}[${described(command.meanings?.[name] ?? entry.help)}]${action}'`);
}

function argumentSpecification(argument: ArgumentEntry): string {
	const {name, kind, optional, multiple} = argument;
	const words = offeredWords(argument);
	const action =
		words.length > 0
			? `(${words.join(' ')})`
			: kind === 'word'
				? ' '
				: kind === 'file'
					? '_files'
					: '_glovebench_source';
	return multiple ? `'*:${name}:${action}'` : `'${optional ? ':' : ''}:${name}:${action}'`;
}

function commandCase(command: CommandEntry): string[] {
	const specifications = [
		...[...command.options, ...commonOptions].flatMap(name => optionSpecifications(name, command)),
		...command.arguments.map(argumentSpecification),
	];
	return [
		`\t\t${command.name})`,
		'\t\t\t_arguments \\',
		`${specifications.map(text => `\t\t\t\t${text}`).join(' \\\n')}`,
		'\t\t\t;;',
	];
}

/** Completions for zsh: a file `_glovebench` on the `fpath`. */
export function zshCompletions(): string {
	return [
		'#compdef glovebench',
		'_glovebench_source() {',
		"\t_alternative 'ports:port:(/dev/tty[UA]*(N))' 'files:file:_files'",
		'}',
		'_glovebench() {',
		'\tlocal -a commands',
		'\tcommands=(',
		...commandTable.map(({name, summary}) => `\t\t'${name}:${described(summary)}'`),
		"\t\t'help:Explains a command'",
		'\t)',
		'\tif (( CURRENT == 2 )); then',
		"\t\t_describe -t commands 'glovebench command' commands",
		'\t\treturn',
		'\tfi',
		'\tlocal command=$words[2]',
		'\tshift words',
		'\t(( CURRENT-- ))',
		'\tcase $command in',
		...commandTable.flatMap(commandCase),
		'\tesac',
		'}',
		// Read by `source <(…)` there is no completion in progress; found on the fpath there is.
		'if [[ $zsh_eval_context[-1] == loadautofunc ]]; then _glovebench "$@"; else compdef _glovebench glovebench; fi',
		'',
	].join('\n');
}
