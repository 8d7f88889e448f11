import meow from 'meow';
import {CannotError} from '../cannot-error.ts';
import {closestNames} from '../text/closest-names.ts';
import type {CommandEntry} from './command-entry.ts';
import {optionOf} from './command-options.ts';
import {commandTable, findCommand} from './command-table.ts';
import type {OptionEntry} from './option-entry.ts';
import {commonOptions, type OptionName, optionTable} from './option-table.ts';
import {badValue, type OptionValue, readOptionValue} from './option-value.ts';

/** Options as a command gets them: camelCase names, checked values, defaults filled in. */
export type Options = Readonly<Record<string, OptionValue | undefined>>;

type CommandLine =
	| {readonly wants: 'version'}
	/** `command` is undefined for the list of commands; `asked` is false where nothing was typed at all. */
	| {readonly wants: 'help'; readonly command: CommandEntry | undefined; readonly asked: boolean}
	| {
			readonly wants: 'command';
			readonly command: CommandEntry;
			readonly arguments: readonly string[];
			readonly options: Options;
	  };

const optionNames = Object.keys(optionTable) as OptionName[];

/** `full-scale` → `fullScale`. */
export function camelCase(name: string): string {
	return name.replace(/-(.)/g, (_, letter: string) => letter.toUpperCase());
}

const dashed = (key: string) => key.replace(/[A-Z]/g, letter => `-${letter.toLowerCase()}`);

const meowFlags = Object.fromEntries(
	optionNames.map(name => {
		const entry = optionTable[name];
		return [
			camelCase(name),
			{
				type: entry.kind === 'switch' ? ('boolean' as const) : ('string' as const),
				...(entry.short && {shortFlag: entry.short}),
				...(entry.multiple && {isMultiple: true as const}),
			},
		];
	}),
);

function rawFlags(argv: readonly string[]) {
	try {
		return meow({
			importMeta: import.meta,
			argv,
			// Everything meow would print, look up or end the process for is done from the command table instead.
			pkg: {name: 'glovebench', bin: {glovebench: 'dist/cli.js'}},
			description: false,
			autoHelp: false,
			autoVersion: false,
			booleanDefault: undefined,
			flags: meowFlags,
		});
	} catch (error) {
		const twice = /The flag --(\w+) can only be set once/.exec(error instanceof Error ? error.message : '');
		if (twice) throw new CannotError(`--${dashed(twice[1])} was given more than once; once is enough.`);
		throw error;
	}
}

/** As it was typed, so that the message shows what the user sees on their own line. */
function asTyped(argv: readonly string[], key: string): string {
	const words = argv.map(word => word.split('=')[0]);
	return (
		words.find(word => word === `--${key}` || word === `--${dashed(key)}` || word === `--no-${dashed(key)}`) ??
		(key.length === 1 ? `-${key}` : `--${dashed(key)}`)
	);
}

function unknownOption(typed: string, command: CommandEntry | undefined): CannotError {
	const allowed = command ? [...command.options, ...commonOptions] : optionNames;
	const spelled = allowed.map(name => (optionTable[name].on ? `--no-${name}` : `--${name}`));
	const near = typed === '-v' || typed === '-V' ? '--version' : closestNames(typed, spelled)[0];
	const help = command ? `glovebench ${command.name} --help` : 'glovebench --help';
	return new CannotError(
		`Unknown option ${typed}${command ? ` for ${command.name}` : ''}.${near ? ` Did you mean ${near}?` : ''} ` +
			`See: ${help}`,
	);
}

function optionNotTaken(name: OptionName, typed: string, command: CommandEntry): CannotError {
	const others = commandTable.filter(entry => entry.options.includes(name)).map(entry => entry.name);
	const whose = others.length > 0 ? ` It belongs to ${others.slice(0, 4).join(', ')}.` : '';
	return new CannotError(`${command.name} does not take ${typed}.${whose} See: glovebench ${command.name} --help`);
}

function readOption(
	name: OptionName,
	entry: OptionEntry,
	given: unknown,
	argv: readonly string[],
): OptionValue | undefined {
	if (entry.kind === 'switch') {
		if (typeof given !== 'boolean') return entry.on ? true : undefined;
		return given;
	}

	if (given === false || given === true) throw badValue(name, entry, undefined);
	if (entry.multiple) {
		const values = (given ?? []) as readonly string[];
		const times = argv.filter(word => word === `--${name}` || word.startsWith(`--${name}=`)).length;
		// The parser drops an empty value of a repeatable option without a word.
		if (values.length < times) throw badValue(name, entry, undefined);
		return values.map(text => String(readOptionValue(name, entry, text)));
	}

	return typeof given === 'string' ? readOptionValue(name, entry, given) : undefined;
}

function checkArguments(command: CommandEntry, words: readonly string[]): void {
	const help = `See: glovebench ${command.name} --help`;
	for (const [index, argument] of command.arguments.entries()) {
		const word = words[index];
		if (word === undefined || word === '') {
			if (argument.optional) continue;
			throw new CannotError(`${command.name} needs ${argument.name}: ${lowerFirst(argument.help)} ${help}`);
		}

		if (argument.words && !argument.words.includes(word)) {
			const [near] = closestNames(word, argument.words);
			throw new CannotError(
				`${argument.name} must not be ${JSON.stringify(word)}: it takes one of ${argument.words.join(', ')}.` +
					(near ? ` Did you mean ${near}?` : ''),
			);
		}
	}

	if (command.arguments.at(-1)?.multiple) return;
	const surplus = words[command.arguments.length];
	if (surplus !== undefined) {
		throw new CannotError(`${command.name} has no use for ${JSON.stringify(surplus)} after its arguments. ${help}`);
	}
}

const lowerFirst = (text: string) => text.charAt(0).toLowerCase() + text.slice(1);

/**
 * Reads what was typed after `glovebench`.
 *
 * Throws `CannotError` for an unknown command or option (with the nearest known one), an option of another command,
 * a value an option cannot take, and arguments that are missing or too many.
 *
 * @example
 * parseCommandLine(['check', 'log.txt', '--for', '2m']); // options.for is 120
 */
export function parseCommandLine(argv: readonly string[]): CommandLine {
	const {input, flags} = rawFlags(argv);
	const given = flags as Record<string, unknown>;
	const beforeSeparator = argv.includes('--') ? argv.slice(0, argv.indexOf('--')) : argv;
	const helpWord = input[0] === 'help';
	const [name, ...words] = helpWord ? input.slice(1) : input;
	const command = name === undefined ? undefined : namedCommand(name);
	const known = new Set(optionNames.map(camelCase));
	for (const key of Object.keys(given)) {
		if (!known.has(key)) throw unknownOption(asTyped(beforeSeparator, key), command);
	}

	if (given.version === true) return {wants: 'version'};
	if (helpWord || given.help === true || !command) {
		return {wants: 'help', command, asked: helpWord || given.help === true};
	}

	const options = optionsOf(command, given, beforeSeparator);
	checkArguments(command, words);
	return {wants: 'command', command, arguments: words, options};
}

/** The options that a command takes. Throws `CannotError` for others, and for values that they cannot take. */
function optionsOf(command: CommandEntry, given: Record<string, unknown>, argv: readonly string[]): Options {
	const options: Record<string, OptionValue | undefined> = {};
	for (const option of optionNames) {
		const key = camelCase(option);
		const value = given[key];
		const isGiven = Array.isArray(value) ? value.length > 0 : value !== undefined;
		if (command.options.includes(option) || commonOptions.includes(option)) {
			const read = readOption(option, optionOf(command, option), value, argv);
			options[key] = isGiven ? read : (fallbackOf(option, command) ?? read);
		} else if (isGiven) throw optionNotTaken(option, asTyped(argv, key), command);
	}

	return options;
}

/** Throws `CannotError` for a name that no command has. */
function namedCommand(name: string): CommandEntry {
	const command = findCommand(name);
	if (command) return command;
	if (name === 'version')
		throw new CannotError('There is no command version. Did you mean --version? See: glovebench --help');
	const [near] = closestNames(
		name,
		commandTable.map(entry => entry.name),
	);
	throw new CannotError(
		`Unknown command ${JSON.stringify(name)}.${near ? ` Did you mean ${near}?` : ''} See: glovebench --help`,
	);
}

/** What a command takes for an option that was not given; undefined where it has no wish. */
function fallbackOf(option: OptionName, command: CommandEntry): OptionValue | undefined {
	const entry = optionOf(command, option);
	const fallback = command.defaults?.[option];
	if (fallback === undefined) return undefined;
	return entry.kind === 'switch' ? fallback === 'true' : readOptionValue(option, entry, fallback);
}
