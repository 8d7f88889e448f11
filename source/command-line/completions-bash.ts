import type {CommandEntry} from './command-entry.ts';
import {optionOf} from './command-options.ts';
import {commandTable} from './command-table.ts';
import {offeredWords} from './offered-words.ts';
import {commonOptions, type OptionName, optionTable} from './option-table.ts';

/** An option as it is typed: `--no-color` for a switch that is on, `--json`, `--baud`. */
function typed(name: OptionName): string {
	return optionTable[name].on ? `--no-${name}` : `--${name}`;
}

const indent = (lines: readonly string[]) => lines.map(line => `\t\t\t${line}`);

function commandCase(command: CommandEntry): string[] {
	const options = [...command.options, ...commonOptions];
	const withWords = options.filter(name => offeredWords(optionOf(command, name)).length > 0);
	const withFile = options.filter(name => optionTable[name].kind === 'file');
	const withOther = options.filter(
		name => optionTable[name].kind !== 'switch' && !withWords.includes(name) && !withFile.includes(name),
	);
	const spell = (name: OptionName) =>
		[typed(name), ...(optionTable[name].short ? [`-${optionTable[name].short}`] : [])].join('|');
	const argument = command.arguments[0];
	const words = argument ? offeredWords(argument).join(' ') : '';
	const ports = argument?.kind === 'source' || argument?.kind === 'port' ? ' $(compgen -G "/dev/tty[UA]*")' : '';
	const files = argument && ['source', 'port', 'file'].includes(argument.kind) ? '_glovebench_files' : '';
	return [
		`\t\t${command.name})`,
		...indent([
			'case "$before" in',
			...withWords.map(
				name =>
					`\t${spell(name)}) COMPREPLY=($(compgen -W "${offeredWords(optionOf(command, name)).join(' ')}" -- "$word")); return ;;`,
			),
			...(withFile.length > 0 ? [`\t${withFile.map(spell).join('|')}) _glovebench_files; return ;;`] : []),
			...(withOther.length > 0 ? [`\t${withOther.map(spell).join('|')}) return ;;`] : []),
			'esac',
			'if [[ $word == -* ]]; then',
			`\tCOMPREPLY=($(compgen -W "${options.map(typed).join(' ')}" -- "$word"))`,
			'else',
			`\tCOMPREPLY=($(compgen -W "${words}${ports}" -- "$word"))`,
			...(files ? [`\t${files}`] : []),
			'fi',
		]),
		'\t\t\t;;',
	];
}

/** Completions for bash: `source <(glovebench completions bash)`. */
export function bashCompletions(): string {
	const names = commandTable.map(({name}) => name).join(' ');
	return [
		'# Completions of glovebench for bash.',
		// One name a line: blanks belong to it. What was typed may have them escaped, or begin with a quotation mark.
		'_glovebench_files() {',
		'\tlocal name typed="$word"',
		`\ttyped="\${typed#[\\"\\']}"`,
		`\ttyped="\${typed//\\\\/}"`,
		'\twhile IFS= read -r name; do COMPREPLY+=("$name"); done < <(compgen -f -- "$typed")',
		'}',
		'_glovebench() {',
		// `--baud=115200` is three words to bash; the value is completed as if a space stood there.
		`\tlocal word="\${COMP_WORDS[COMP_CWORD]}" before="\${COMP_WORDS[COMP_CWORD-1]}"`,
		'\t[[ $word == = ]] && word=""',
		`\t[[ $before == = ]] && before="\${COMP_WORDS[COMP_CWORD-2]}"`,
		// So is `dropout:ring`, but it is completed as the one that it is, and bash is given what comes behind the colon.
		'\tlocal front=""',
		`\tif [[ $word == : ]]; then front="$before:"; word="$front"; before="\${COMP_WORDS[COMP_CWORD-2]}"`,
		`\telif [[ $before == : ]]; then front="\${COMP_WORDS[COMP_CWORD-2]}:"; word="$front$word"; before="\${COMP_WORDS[COMP_CWORD-3]}"`,
		'\tfi',
		`\t[[ -n $front && $before == = ]] && before="\${COMP_WORDS[COMP_CWORD-4]}"`,
		'\t_glovebench_words',
		`\t[[ -n $front ]] && COMPREPLY=("\${COMPREPLY[@]#"$front"}")`,
		'\treturn 0',
		'}',
		'_glovebench_words() {',
		'\tCOMPREPLY=()',
		'\tif (( COMP_CWORD == 1 )); then',
		`\t\tCOMPREPLY=($(compgen -W "${names} help --help --version" -- "$word"))`,
		'\t\treturn',
		'\tfi',
		`\tcase "\${COMP_WORDS[1]}" in`,
		`\t\thelp) COMPREPLY=($(compgen -W "${names}" -- "$word")) ;;`,
		...commandTable.flatMap(commandCase),
		'\tesac',
		'}',
		'complete -o filenames -F _glovebench glovebench',
		'',
	].join('\n');
}
