/**
 * How an option's value is read.
 *
 * `switch` takes none; `--no-x` turns off a switch that is on by default. `duration` is given as `500ms`, `20s`, `2m`
 * and arrives in seconds. `file` differs from `text` only for the shells' completions.
 */
export type OptionKind = 'switch' | 'text' | 'file' | 'whole' | 'number' | 'duration' | 'choice';

/** One option. The same name means the same thing in every command that takes it. */
export type OptionEntry = {
	readonly kind: OptionKind;
	/** Placeholder in the help text. */
	readonly value?: string;
	readonly short?: string;
	/** The allowed words of a `choice`, or the words a number may be replaced by. */
	readonly words?: readonly string[];
	readonly least?: number;
	readonly most?: number;
	/** What a right value is, for `--x must not be "…": it takes ….` A `choice` says its words by itself. */
	readonly takes?: string;
	/** May be given more than once; the values arrive as a list. */
	readonly multiple?: boolean;
	/** On unless `--no-x` is given (switches only). */
	readonly on?: boolean;
	readonly help: string;
};

/** One positional argument. `kind` tells the shells what to complete. */
export type ArgumentEntry = {
	readonly name: string;
	readonly kind: 'source' | 'port' | 'file' | 'word' | 'code';
	readonly words?: readonly string[];
	readonly optional?: boolean;
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
	readonly examples: readonly {readonly line: string; readonly does: string}[];
};

const entries = {
	help: {kind: 'switch', short: 'h', help: 'Prints this text.'},
	version: {kind: 'switch', help: 'Prints the version.'},
	color: {kind: 'switch', on: true, help: 'Leaves out colour, as NO_COLOR in the environment does.'},
	ascii: {kind: 'switch', help: 'Draws with ASCII characters only.'},
	sheet: {kind: 'file', value: 'FILE', help: 'The sheet that says how the glove is built (.toml).'},
	baud: {
		kind: 'whole',
		value: 'RATE',
		least: 50,
		most: 12_000_000,
		takes: 'a whole number such as 115200',
		help: "Speed of the serial line. Default: the sheet's, else 115200.",
	},
	'full-scale': {
		kind: 'whole',
		value: 'COUNTS',
		least: 1,
		most: 2 ** 32 - 1,
		takes: 'a whole number such as 1023 or 4095',
		help: 'Highest count of the converter. Default: found out from the stream.',
	},
	layout: {
		kind: 'text',
		value: 'NAMES',
		takes: 'channel names in order, such as thumb,index,middle,ring,little,stick-x,stick-y,button-1',
		help: 'Channel names in order, comma separated, - for a column to ignore; slip: or cobs: before them for packets. Default: found out from the stream.',
	},
	rate: {
		kind: 'number',
		value: 'FRAMES',
		least: 0.01,
		most: 100_000,
		takes: 'a number of frames per second such as 100',
		help: 'Frames per second of a plain log without times. Default: 100.',
	},
	for: {
		kind: 'duration',
		value: 'TIME',
		takes: 'a time such as 500ms, 20s or 2m',
		help: 'How long to read.',
	},
	reset: {kind: 'switch', on: true, help: 'Opens the port without the DTR pulse that restarts many boards.'},
	json: {kind: 'switch', help: 'Prints JSON.'},
	markdown: {kind: 'switch', help: 'Prints a report of at most 2,000 characters for a chat or a forum.'},
	full: {kind: 'switch', help: 'With --markdown: everything, however long.'},
	all: {kind: 'switch', help: 'Everything there is.'},
	board: {kind: 'text', value: 'FAMILY', takes: 'a board family such as atmega328p', help: 'Board family.'},
	name: {kind: 'text', value: 'NAME', takes: 'a name', help: 'What the glove is called.'},
	stick: {kind: 'switch', on: true, help: 'Without a thumb stick.'},
	buttons: {
		kind: 'whole',
		value: 'NUMBER',
		least: 0,
		most: 16,
		takes: 'a whole number from 0 to 16',
		help: 'How many buttons.',
	},
	link: {kind: 'text', value: 'KIND', takes: 'a kind of link such as usb', help: 'How it reaches the computer.'},
	spool: {
		kind: 'number',
		value: 'MM',
		least: 1,
		most: 200,
		takes: 'a diameter in millimetres such as 20',
		help: 'Diameter of the spools in mm.',
	},
	battery: {
		kind: 'number',
		value: 'MAH',
		least: 1,
		most: 1_000_000,
		takes: 'a capacity in mAh such as 1000',
		help: 'Battery in mAh. Default: fed by USB.',
	},
	force: {kind: 'switch', help: 'Replaces a file that is there.'},
	html: {kind: 'file', value: 'FILE', help: 'Also writes the report as one self-contained page.'},
	follow: {
		kind: 'switch',
		help: 'Prints what happens as it happens until the source ends; with --json one object per line.',
	},
} as const satisfies Record<string, OptionEntry>;

export type OptionName = keyof typeof entries;

export const optionTable: Readonly<Record<OptionName, OptionEntry>> = entries;

/** Taken by every command. */
export const commonOptions: readonly OptionName[] = ['color', 'ascii', 'help', 'version'];

/** Taken by every command that reads a glove. */
const sourceOptions: readonly OptionName[] = ['sheet', 'baud', 'full-scale', 'layout', 'rate', 'reset'];

export const shells = ['bash', 'zsh', 'fish'] as const;

const source: ArgumentEntry = {
	name: 'SOURCE',
	kind: 'source',
	help: 'A serial port, tcp://host:port, - for standard input, a recording, or a text log.',
};

/** The commands that work, in the order in which help lists them. */
export const commandTable: readonly CommandEntry[] = [
	{
		name: 'check',
		summary: 'Reads a source and reports what is wrong and what to measure next',
		notes: [
			'A file is read to its end, a port for --for (20s unless given). Exit status 1 means that something was found at failure or out-of-spec.',
		],
		arguments: [source],
		options: [...sourceOptions, 'for', 'json', 'markdown', 'full', 'html', 'follow'],
		examples: [
			{line: 'glovebench check recordings/floating-input.gbr', does: 'a report on a recording'},
			{line: 'glovebench check /dev/ttyUSB0 --for 1m', does: 'a minute of the glove on that port'},
			{line: 'glovebench check log.txt --html report.html', does: 'and a page to pass on'},
			{line: 'glovebench check log.txt --json', does: 'the same findings for another program'},
			{line: 'glovebench check /dev/ttyUSB0 --follow --json', does: 'events as they happen, one per line'},
		],
	},
	{
		name: 'explain',
		summary: 'Says what a finding means, what to measure and how to mend it',
		notes: ['Without a code it lists them all.'],
		arguments: [{name: 'CODE', kind: 'code', optional: true, help: "A finding's code, such as floating-input."}],
		options: ['all', 'json', 'markdown'],
		examples: [
			{line: 'glovebench explain', does: 'every code in a line'},
			{line: 'glovebench explain floating-input', does: 'one of them in full'},
		],
	},
	{
		name: 'plan',
		summary: 'Tells from the sheet, before anything is built, what will not work and what to expect',
		arguments: [{name: 'SHEET', kind: 'file', help: 'The sheet (.toml).'}],
		options: ['json'],
		examples: [{line: 'glovebench plan glove.toml', does: 'pins, converter, link, current, battery time'}],
	},
	{
		name: 'sheet',
		summary: 'Writes and checks the file that says how a glove is built',
		notes: ['`new` asks when no --board is given and a terminal is there; `keys` prints what may stand in a sheet.'],
		arguments: [
			{name: 'ACTION', kind: 'word', words: ['new', 'check', 'keys'], help: 'One of new, check, keys.'},
			{name: 'FILE', kind: 'file', optional: true, help: 'The sheet to write or to check.'},
		],
		options: ['board', 'name', 'stick', 'buttons', 'link', 'baud', 'spool', 'battery', 'force', 'json'],
		examples: [
			{line: 'glovebench sheet new glove.toml --board atmega328p --buttons 2', does: 'a sheet to start from'},
			{line: 'glovebench sheet check glove.toml', does: 'its mistakes, with their lines'},
			{line: 'glovebench sheet keys', does: 'what may stand in a sheet'},
		],
	},
	{
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
	},
];

/** The entry of a command, or undefined where there is none of that name. */
export function findCommand(name: string): CommandEntry | undefined {
	return commandTable.find(entry => entry.name === name);
}
