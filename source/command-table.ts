import {baudRange} from './baud-range.ts';
import {boardWords} from './board-words.ts';
import {frameFormats, valueKinds} from './frames/frame-words.ts';
import {handednesses} from './mount/gesture-words.ts';
import {directions, hands, lengthUnits, orders, upAxes} from './mount/pose-form.ts';
import {linkKinds} from './sheet/sheet.ts';
import {firmwareWords} from './simulator/firmware-words.ts';

/**
 * How an option's value is read.
 *
 * `switch` takes none; `--no-x` turns off a switch that is on by default. `duration` is given as `500ms`, `20s`, `2m`, or
 * a number of seconds, and arrives in seconds. `file` and `code` differ from `text` only for the shells' completions.
 */
type OptionKind = 'switch' | 'text' | 'file' | 'code' | 'whole' | 'number' | 'duration' | 'choice';

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
	/** What was meant by a value that is possible and hardly meant, as a question; undefined for any other. */
	readonly instead?: (text: string) => string | undefined;
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
	/** What an option says in this command's help instead of its usual sentence. */
	readonly meanings?: Partial<Record<OptionName, string>>;
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
		...baudRange,
		words: ['auto'],
		takes: 'a whole number such as 115200, or auto',
		help: "Speed of the serial line; auto tries the usual ones on a port. Default: the sheet's, else 115200.",
	},
	'full-scale': {
		kind: 'whole',
		value: 'COUNTS',
		least: 1,
		most: 2 ** 32 - 1,
		takes: 'a whole number such as 1023 or 4095',
		instead: text =>
			// The most a converter of a board gives is 24 bits; fewer than 6 are no reading of a finger.
			/^\d+$/.test(text) && Number(text) >= 6 && Number(text) <= 24
				? `${text} bit? then ${2 ** Number(text) - 1}`
				: undefined,
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
	reply: {
		kind: 'switch',
		help: "Prints a message in plain words for the glove's builder: what I see, do this first, then send me this.",
	},
	full: {kind: 'switch', help: 'With --markdown: everything, however long.'},
	output: {kind: 'file', value: 'FILE', short: 'o', help: 'The file to write.'},
	note: {kind: 'text', value: 'TEXT', takes: 'a note', help: 'A note to keep in the recording.'},
	force: {kind: 'switch', help: 'Replaces a file that is there.'},
	reattach: {kind: 'switch', help: 'After the port or the connection is lost, waits for it to come back.'},
	record: {kind: 'file', value: 'FILE', help: 'Keeps everything received in this recording.'},
	seed: {
		kind: 'whole',
		value: 'NUMBER',
		least: 0,
		most: 2 ** 32 - 1,
		takes: 'a whole number such as 7',
		help: 'Which glove, hand and noise are drawn; the same number gives the same bytes. Default: 1.',
	},
	format: {
		kind: 'choice',
		value: 'FORMAT',
		words: ['comma', 'tab', 'space', 'semicolon', 'labels', 'header', 'json', 'slip', 'cobs'],
		help: 'How frames are written.',
	},
	firmware: {
		kind: 'choice',
		value: 'PROGRAM',
		words: firmwareWords,
		help: 'What the board makes of the readings: as they are, means, each finger stretched to the whole scale, or stretched by the lowest and highest reading since power-on. Default: raw.',
	},
	script: {
		kind: 'text',
		value: 'STEPS',
		takes: "steps such as 'rest 2s, fist 4x, stick around 2x'",
		help: 'What the hand does: rest 2s, fist 4x, each 1x, index 3x, pull index 3x, tap index 12x, posture 20s, play 20s, stick around 2x, ruler index 5mm, press button-1 3x; at once with +.',
	},
	fault: {
		kind: 'code',
		value: 'FAULT',
		multiple: true,
		takes: 'a code with channel, times and severity as needed, such as dropout:ring@5s-20s*0.8',
		help: "A finding's code to bring about, with channel, times and severity as needed: dropout:ring@5s-20s*0.8.",
	},
	fast: {kind: 'switch', help: 'Writes to standard output as fast as it is taken instead of in real time.'},
	stamp: {kind: 'switch', help: 'Writes seconds before every line.'},
	listen: {
		kind: 'whole',
		value: 'PORT',
		least: 0,
		most: 65_535,
		takes: 'a port number, 0 for any free one',
		help: 'Serves the stream on this port of this machine, 0 for any free one.',
	},
	host: {
		kind: 'text',
		value: 'ADDRESS',
		takes: 'an address of this machine, such as 0.0.0.0 or ::',
		help: 'With --listen: the address to listen on, so that other machines can connect. Default: 127.0.0.1, which only this machine reaches.',
	},
	bell: {
		kind: 'switch',
		help: 'Begins with the bell on: one = proven or step done, two = lost or faulty. b switches it.',
	},
	ruler: {
		kind: 'text',
		value: 'STEP',
		takes: 'the distance of the marks such as 5mm',
		help: 'Also pulls each cord along a ruler, mark by mark of this distance: is the pot straight, does the reel lag, which spool is it.',
	},
	reel: {
		kind: 'text',
		value: 'SPEC',
		multiple: true,
		takes: 'a finger with what is odd about its reel, such as index:taper=audio,load=0.1,layer=20',
		help: 'What is odd about a reel: taper=audio or reverse (15 % at half turn, or taper=audio/10), load=R of the track over that of the load, layer=mm of cord from which on it lies in a second layer.',
	},
	page: {
		kind: 'choice',
		value: 'PAGE',
		words: ['overview', 'bench', 'trend', 'findings', 'checks', 'link', 'stick', 'keys'],
		help: 'The page to begin with.',
	},
	fps: {
		kind: 'number',
		value: 'NUMBER',
		least: 1,
		most: 60,
		takes: 'a number of redraws per second from 1 to 60',
		help: 'Redraws a second. Default: 10.',
	},
	'screen-reader': {kind: 'switch', help: 'Says what changes in lines, for a screen reader.'},
	rotate: {
		kind: 'duration',
		value: 'TIME',
		takes: 'a time such as 10m, 1h or 24h',
		help: 'Begins a further recording (FILE-2, FILE-3 …) whenever so long has gone by; none of what arrives is lost.',
	},
	at: {kind: 'duration', value: 'TIME', takes: 'a time such as 90s or 2m', help: 'Where to begin.'},
	hold: {kind: 'switch', help: 'Begins held instead of playing.'},
	speed: {
		kind: 'number',
		value: 'FACTOR',
		least: 0.01,
		most: 1000,
		takes: 'a factor such as 2 or 0.5',
		help: 'How fast to play, times real time.',
	},
	symptom: {
		kind: 'text',
		value: 'WORDS',
		takes: "what is seen, such as 'ring jumps'",
		help: 'Lists the findings that these words may mean.',
	},
	all: {kind: 'switch', help: 'Everything there is.'},
	list: {kind: 'switch', help: 'Lists all there is.'},
	svg: {
		kind: 'file',
		value: 'DIR',
		help: 'Also writes each chart of the page into this folder, as a picture of its own (SVG).',
	},
	board: {
		kind: 'text',
		value: 'CHIP',
		words: Object.keys(boardWords),
		takes: 'a chip such as atmega328p',
		help: `The chip of the board: ${Object.keys(boardWords).join(', ')}.`,
	},
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
	link: {
		kind: 'text',
		value: 'KIND',
		words: linkKinds,
		takes: 'a kind of link such as usb',
		help: `How it reaches the computer: ${linkKinds.join(', ')}.`,
	},
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
	fresh: {kind: 'switch', help: 'Begins anew instead of going on where the last bring-up was broken off.'},
	header: {kind: 'switch', help: 'Prints a C header.'},
	html: {
		kind: 'file',
		value: 'FILE',
		help: 'Also writes the report as one self-contained page: the short form of glovebench report.',
	},
	junit: {
		kind: 'file',
		value: 'FILE',
		help: 'Also writes the checks as JUnit XML, a test case for each, for a machine that runs tests.',
	},
	openmetrics: {kind: 'switch', help: 'Prints OpenMetrics text for a monitor: rate, jitter, loss, findings by code.'},
	follow: {
		kind: 'switch',
		help: 'Prints what happens as it happens until the source ends; with --json one object per line.',
	},
	session: {
		kind: 'whole',
		value: 'N',
		least: 1,
		most: 100_000,
		takes: 'the number of a session, 1 for the first',
		help: 'Which of the sessions that a log holds. Default: the last.',
	},
	proven: {kind: 'switch', help: 'Status 1 unless the verdict is pass: nothing wrong, and every channel proven.'},
	why: {
		kind: 'code',
		value: 'CODE[:CHANNEL]',
		takes: "a finding's code, with a channel as needed, such as narrow-span:ring",
		help: 'Instead of the report: of each channel, why this was not found: what refused, what it saw and what it asks.',
	},
	line: {
		kind: 'text',
		value: 'TEMPLATE',
		takes: "a line with headings in braces, such as 'T{thumb} I{index}\\n'",
		help: "Instead of a format: a line of your own for each frame, with headings in braces, such as 'T{thumb} I{index}\\n'.",
	},
	values: {
		kind: 'choice',
		value: 'KIND',
		words: valueKinds,
		help: "Readings of fingers and stick as they came (raw), from 0 to 1 between the sheet's min and max (bend), or in percent of full scale. Default: raw.",
	},
	columns: {
		kind: 'text',
		value: 'NAMES',
		takes: 'channel names, comma separated, such as thumb,index',
		help: 'Which channels, in which order, comma separated. Default: all, as they come.',
	},
	resample: {
		kind: 'number',
		value: 'RATE',
		least: 0.01,
		most: 100_000,
		takes: 'a number of frames per second such as 50',
		help: 'A frame at even times, so many a second: the latest readings held, none in an outage.',
	},
	bits: {
		kind: 'choice',
		value: 'BITS',
		words: ['10', '12'],
		help: 'Counts as a converter of so many bits gives them.',
	},
	window: {
		kind: 'duration',
		value: 'TIME',
		takes: 'a time such as 5s or 20s',
		help: 'Length of the stretches where no marks make them. Default: 10s.',
	},
	mark: {
		kind: 'text',
		value: 'CHANNEL',
		takes: 'the name of a channel such as button-1',
		help: 'The button whose presses are the marks. Default: the first that is pressed, else three quick fists.',
	},
	other: {
		kind: 'file',
		value: 'SOURCE',
		help: 'A second source to set beside it: the cable beside the radio.',
	},
	websocket: {
		kind: 'whole',
		value: 'PORT',
		least: 0,
		most: 65_535,
		takes: 'a port number, 0 for any free one',
		help: 'Serves the readings as NDJSON over WebSockets on this port of this machine.',
	},
	from: {kind: 'duration', value: 'TIME', takes: 'a time such as 90s or 2m', help: 'Where the span begins.'},
	to: {kind: 'duration', value: 'TIME', takes: 'a time such as 90s or 2m', help: 'Where the span ends.'},
	device: {
		kind: 'text',
		value: 'NAME',
		takes: 'a name in the log',
		help: 'Which of the things in the log is the tracker.',
	},
	second: {
		kind: 'text',
		value: 'NAME',
		takes: 'a name in the log',
		help: 'Which of the things in the log is held in the same hand and has its pose right.',
	},
	hand: {kind: 'choice', value: 'HAND', words: hands, help: 'Which hand, for the side of the thumb. Default: right.'},
	space: {
		kind: 'choice',
		value: 'KIND',
		words: handednesses,
		help: 'The kind of axes of the space, which those of the hand follow. Default: right-handed.',
	},
	spaces: {
		kind: 'choice',
		value: 'NUMBER',
		words: ['one', 'two'],
		help: 'Whether tracker and second thing are tracked in one space or in two. Default: found out.',
	},
	quaternion: {
		kind: 'choice',
		value: 'ORDER',
		words: orders,
		help: "Order of the quaternion's numbers. Default: by their names, else found out on the pivot.",
	},
	direction: {
		kind: 'choice',
		value: 'WAY',
		words: directions,
		help: 'What the quaternion turns into what. Default: found out on the pivot.',
	},
	unit: {
		kind: 'choice',
		value: 'UNIT',
		words: lengthUnits,
		help: 'Unit of the positions. Default: by their names, else by how far the hand moved.',
	},
	up: {
		kind: 'choice',
		value: 'AXIS',
		words: upAxes,
		help: 'Which axis points up. Default: the one that fits the poses best.',
	},
	steps: {
		kind: 'text',
		value: 'STEPS',
		takes: 'names and times such as palm-down 2s-5s, pivot 30s-50s',
		help: 'Where the steps are: palm-down, thumb-up, fingers-down and pivot with their times, comma separated. Default: found out.',
	},
	origin: {
		kind: 'text',
		value: 'X,Y,Z',
		takes: 'three numbers in mm such as 0,-12,95',
		help: "From the pivot point to the hand's origin, mm in the hand's axes. Default: the sheet's, else 0,0,0.",
	},
	poses: {kind: 'file', value: 'FILE', help: "Writes a log of a tracker's poses instead, with the truth in its head."},
	tracker: {
		kind: 'text',
		value: 'SETTINGS',
		takes: 'settings such as order=xyzw, up=z, wander=5',
		help: 'With --poses: hand, order, unit, up, rate, times, pivot, axes, swing, noise, turnnoise, wander, off, jumps, devices, as in order=xyzw, up=z, devices=2.',
	},
	'enough-mm': {
		kind: 'number',
		value: 'MM',
		least: 0.1,
		most: 100,
		takes: 'a standard deviation in mm such as 3',
		help: 'How well the position has to be known: one standard deviation where it is known least. Default: 3.',
	},
	'enough-deg': {
		kind: 'number',
		value: 'DEGREES',
		least: 0.1,
		most: 45,
		takes: 'a standard deviation in degrees such as 2',
		help: 'How well the rotation has to be known, in the same way. Default: 2.',
	},
	verify: {
		kind: 'file',
		value: 'FILE',
		help: 'The log is of the hand after the offset in FILE (an earlier JSON, or a sheet) was typed in: says what is left, and which slip explains it.',
	},
} as const satisfies Record<string, OptionEntry>;

export type OptionName = keyof typeof entries;

export const optionTable: Readonly<Record<OptionName, OptionEntry>> = entries;

/** Speeds as of a line that is not open: there is nothing to try them on. */
const baudOfFile: OptionEntry = {
	kind: 'whole',
	value: 'RATE',
	...baudRange,
	takes: 'a whole number such as 115200',
	help: "Speed of the serial line it came over. Default: the recording's or the sheet's, else 115200.",
};

/** Forms in which readings go to other programs, where `simulate` writes what a board does. */
const formatOfReadings: OptionEntry = {
	kind: 'choice',
	value: 'FORMAT',
	words: frameFormats,
	help: 'csv and tsv with a head and the time first, ndjson (an object a line), comma and labels as boards print them. Default: csv.',
};

/** An option as a command has it: `--baud auto` needs a port, which only commands with `--no-reset` open. */
export function optionOf(command: CommandEntry, name: OptionName): OptionEntry {
	if (name === 'format' && command.name === 'frames') return formatOfReadings;
	return name === 'baud' && !command.options.includes('reset') ? baudOfFile : optionTable[name];
}

/** Options in help, by what they are about; what stands in none of the other groups stands in the last. */
const optionGroups: readonly (readonly [title: string, names: readonly OptionName[]])[] = [
	[
		'Reading',
		[
			'sheet',
			'baud',
			'full-scale',
			'layout',
			'rate',
			'reset',
			'reattach',
			'for',
			'session',
			'device',
			'second',
			'hand',
			'origin',
			'steps',
			'quaternion',
			'direction',
			'unit',
			'up',
			'space',
			'spaces',
			'at',
			'from',
			'to',
			'all',
			'hold',
			'speed',
			'fresh',
		],
	],
	[
		'Output',
		[
			'output',
			'record',
			'note',
			'force',
			'json',
			'markdown',
			'full',
			'html',
			'svg',
			'list',
			'header',
			'follow',
			'proven',
			'why',
			'listen',
			'websocket',
			'host',
			'line',
			'values',
			'columns',
			'resample',
			'bits',
			'fast',
			'stamp',
			'format',
		],
	],
	['Looks', ['page', 'fps', 'bell', 'screen-reader', 'color', 'ascii']],
	['Other options', []],
];

/** The options of a command by group, in the order of the groups, then of the command. */
export function groupedOptions(
	command: CommandEntry,
): readonly (readonly [title: string, names: readonly OptionName[]])[] {
	const names = [...command.options, ...commonOptions];
	const grouped = new Set(optionGroups.flatMap(([, each]) => each));
	return optionGroups
		.map(([title, each], index): [string, OptionName[]] => [
			title,
			names.filter(name => each.includes(name) || (index === optionGroups.length - 1 && !grouped.has(name))),
		])
		.filter(([, each]) => each.length > 0);
}

/** Taken by every command. */
export const commonOptions: readonly OptionName[] = ['color', 'ascii', 'help', 'version'];

/** Taken by every command that reads a glove. */
const sourceOptions: readonly OptionName[] = ['sheet', 'baud', 'full-scale', 'layout', 'rate', 'reset'];

/** Of these, what a recording or a log needs. */
const fileOptions = sourceOptions.filter(name => name !== 'reset');

const shells = ['bash', 'zsh', 'fish'] as const;

const source: ArgumentEntry = {
	name: 'SOURCE',
	kind: 'source',
	help: 'A serial port, tcp://host:port, - for standard input, a recording, or a text log.',
};

const port: ArgumentEntry = {
	name: 'PORT',
	kind: 'port',
	help: 'A serial port (/dev/ttyUSB0, COM5) or tcp://host:port.',
};

const lineOptions: readonly OptionName[] = ['sheet', 'baud', 'full-scale', 'layout', 'reset'];

const screenOptions: readonly OptionName[] = ['fps', 'screen-reader'];

/** The commands that work, in the order in which help lists them. */
export const commandTable: readonly CommandEntry[] = [
	{
		name: 'ports',
		summary: 'Lists the serial ports and what is known of each',
		arguments: [],
		options: ['json'],
		examples: [{line: 'glovebench ports', does: 'maker, USB ids, likely chip; and why one cannot be opened'}],
	},
	{
		name: 'attach',
		summary: 'Shows a glove live: every channel, and faults as they happen',
		arguments: [port, {...port, name: 'SECOND', optional: true, help: 'A second glove beside the first.'}],
		options: [...lineOptions, 'record', 'force', 'bell', 'page', ...screenOptions],
		examples: [
			{line: 'glovebench attach /dev/ttyUSB0', does: 'the glove on that port'},
			{line: 'glovebench attach COM5 --record left.gbrec', does: 'and keeps everything received'},
			{line: 'glovebench attach tcp://glove.local:3333', does: 'a glove on the network'},
		],
	},
	{
		name: 'replay',
		summary: 'Shows a recording or log like a live glove: hold, step, seek',
		arguments: [
			{name: 'FILE', kind: 'file', help: 'A recording or a text log.'},
			{name: 'SECOND', kind: 'file', optional: true, help: 'A second recording beside the first.'},
		],
		options: [...fileOptions, 'session', 'at', 'page', 'hold', 'speed', ...screenOptions],
		examples: [
			{line: 'glovebench replay left.gbrec', does: 'from the start'},
			{line: 'glovebench replay left.gbrec --at 90s --hold', does: 'held at a minute and a half'},
		],
	},
	{
		name: 'check',
		summary: 'Reads a source and reports what is wrong and what to measure next',
		notes: [
			'A file is read to its end, a port for --for. Exit status 1 means that something at failure or out-of-spec weighs: it is there at the end, or it comes and goes by nature. What was mended meanwhile weighs no more.',
			'The verdict is pass only once every finger, stick axis and button has been proven; else, with nothing wrong, it is unproven, and says what to move.',
			'The report begins with how the source was read: which columns as what, what was taken out or left out, and the sessions that a log holds. Several sources give a table, the worst first, and one exit status; with --json an object a line, in the order given.',
		],
		meanings: {for: 'How long to read a port. Default: 20s.'},
		arguments: [
			source,
			{name: 'MORE', kind: 'source', optional: true, multiple: true, help: 'More sources, for a table of them.'},
		],
		options: [
			...sourceOptions,
			'for',
			'session',
			'json',
			'markdown',
			'full',
			'reply',
			'openmetrics',
			'html',
			'junit',
			'follow',
			'proven',
			'why',
		],
		examples: [
			{line: 'glovebench check recordings/floating-input.gbrec', does: 'a report on a recording'},
			{line: 'glovebench check /dev/ttyUSB0 --for 1m', does: 'a minute of the glove on that port'},
			{line: 'glovebench check log.txt --html report.html', does: 'and a page to pass on'},
			{line: 'glovebench check log.txt --reply', does: 'an answer to whoever sent the log'},
			{line: 'glovebench check log.txt --json', does: 'the same findings for another program'},
			{line: 'glovebench check rig.gbrec --junit rig.xml', does: 'and a test case for each check'},
			{line: 'glovebench check log.txt --session 1', does: 'the first of the sessions in it'},
			{line: 'glovebench check monday.txt tuesday.txt', does: 'a line on each, the worst first'},
			{line: 'glovebench check log.txt --why narrow-span:ring', does: 'why the ring finger was not called narrow'},
			{line: 'glovebench check log.txt --proven', does: 'status 0 only for a glove that is proven to be whole'},
			{line: 'glovebench check /dev/ttyUSB0 --follow --json', does: 'events as they happen, one per line'},
		],
	},
	{
		name: 'record',
		meanings: {
			output: 'The recording to write: .gbrec, or .gbrec.gz for a compressed one.',
			for: 'How long to record; until then a port that goes is waited for, and status 1 tells that it was not reached. Default: until stopped or the port goes.',
		},
		summary: 'Records a glove without a screen, until stopped or for a time',
		arguments: [port],
		options: ['output', 'for', 'rotate', 'note', 'force', 'reattach', 'sheet', 'baud', 'rate', 'reset'],
		examples: [
			{line: 'glovebench record /dev/ttyUSB0 -o left.gbrec', does: 'until Ctrl-C'},
			{line: 'glovebench record /dev/ttyUSB0 -o rig.gbrec --rotate 1h', does: 'an hour to a file, on and on'},
			{line: 'glovebench record /dev/ttyUSB0 -o left.gbrec.gz --for 5m', does: 'five minutes, compressed'},
		],
	},
	{
		name: 'report',
		summary: 'Makes one page of a recording, a bring-up, a mount, or two recordings',
		notes: [
			'A page of a recording says what check says; of a recorded bring-up, which its marks tell, what bringup says; of two recordings, what compare says; of what mount --json printed, the offset. It needs nothing else, runs no script, and opens from a mail. The exit status is that of the command.',
		],
		arguments: [
			{name: 'RECORDING', kind: 'file', help: 'A recording or a text log, - for standard input.'},
			{name: 'SECOND', kind: 'file', optional: true, help: 'A second one to hold against the first.'},
		],
		options: [...fileOptions, 'session', 'output', 'svg'],
		meanings: {
			output: "The page to write, - for standard output. Default: the recording's name with .html, in this folder.",
		},
		examples: [
			{line: 'glovebench report left.gbrec', does: 'left.html'},
			{line: 'glovebench report before.gbrec after.gbrec -o repair.html', does: 'what the repair changed'},
			{line: 'glovebench report left.gbrec --svg charts', does: 'and each chart as a picture of its own'},
		],
	},
	{
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
	},
	{
		name: 'fit',
		summary: "From a session: each finger's range, stick centre and dead zone, smoothing",
		notes: ['Prints settings to put into the firmware. A port is read for --for.'],
		meanings: {for: 'How long to read a port. Default: 1m.', header: 'Prints a C header.'},
		arguments: [source],
		options: [...sourceOptions, 'for', 'session', 'json', 'header'],
		examples: [
			{line: 'glovebench fit left.gbrec', does: 'settings as text'},
			{line: 'glovebench fit left.gbrec --header > glove-settings.h', does: 'as a header for the firmware'},
		],
	},
	{
		name: 'bringup',
		summary: 'Guides through the acceptance of a glove: each reel, the hand, stick, buttons',
		notes: [
			'Prompts for one movement after the other and goes on by itself when it has seen it; it waits for ever, and through a pulled cable. On a recording it prints what it saw. Ends with a pass/fail table; -o writes the sheet as built. Broken off, it goes on where it stopped.',
		],
		meanings: {
			output: 'Where the sheet as built goes (.toml).',
			record: 'Keeps everything received in this recording.',
		},
		arguments: [{name: 'PORT', kind: 'source', help: 'The port of the glove, or a recording of a bring-up.'}],
		options: [
			...sourceOptions,
			'output',
			'force',
			'fresh',
			'ruler',
			'record',
			'html',
			'json',
			'bell',
			...screenOptions,
		],
		examples: [
			{line: 'glovebench bringup /dev/ttyUSB0 -o as-built.toml', does: 'the whole routine, on screen'},
			{line: 'glovebench bringup /dev/ttyUSB0 --ruler 5mm', does: 'and each cord along a ruler: a wrong pot shows'},
			{line: 'glovebench bringup visit.gbrec --json', does: 'what a recorded bring-up showed'},
		],
	},
	{
		name: 'compare',
		summary: 'Two sessions side by side: span, noise, rate, findings gone and new',
		arguments: [
			{name: 'A', kind: 'source', help: 'A recording or log: before the repair, the left hand, a good one.'},
			{
				name: 'B',
				kind: 'source',
				optional: true,
				help: 'The one to hold against it. Without it A is a log of two or more sessions, of which the last two are compared.',
			},
		],
		options: [...fileOptions, 'json', 'markdown', 'html'],
		examples: [
			{line: 'glovebench compare before.gbrec after.gbrec', does: 'what the repair changed'},
			{line: 'glovebench compare both.txt', does: 'the two sessions in one log'},
		],
	},
	{
		name: 'mount',
		summary: 'Solves how a tracker sits on the hand, from a log of its poses',
		notes: [
			'Two things tell it: poses held still (palm down, thumb up, fingers down, twice, the second time turned about a quarter), and turning all ways with a fingertip on a fixed dimple. Every number comes with its ±; what cannot be known is left out, and the movement that is missing is named (status 1).',
			'Unit, order and direction of the quaternion and the axis that is up are found from the data and told with the runner-up. On tcp:// or a pipe with a terminal it leads through the steps on screen.',
			'With a second thing held in the same hand (--second, or a second log) the offset is that of the two.',
		],
		arguments: [
			{name: 'POSES', kind: 'source', help: 'A log of poses (CSV, TSV, blanks, NDJSON), - or tcp://host:port.'},
			{name: 'OTHER', kind: 'file', optional: true, help: 'The log of a second thing held in the same hand.'},
		],
		options: [
			'device',
			'second',
			'hand',
			'sheet',
			'origin',
			'steps',
			'quaternion',
			'direction',
			'unit',
			'up',
			'space',
			'spaces',
			'rate',
			'enough-mm',
			'enough-deg',
			'verify',
			'for',
			'json',
			'bell',
			...screenOptions,
		],
		meanings: {
			sheet: 'A sheet whose [mount] says the hand and where its origin is.',
			rate: 'Rows a second of a log without times. Default: 100.',
			for: 'How long to read a connection. Default: to its end.',
		},
		examples: [
			{line: 'glovebench mount poses.csv', does: 'the offset, both ways, with its uncertainty'},
			{line: 'glovebench mount poses.csv --device tracker-2 --hand left', does: 'one of several things in the log'},
			{line: 'glovebench mount tcp://127.0.0.1:4444', does: 'step by step on screen'},
			{line: 'glovebench mount after.csv --verify mount.json', does: 'whether it was typed in right'},
		],
	},
	{
		name: 'frames',
		summary: 'The readings themselves for other programs: a table, lines, or a live stream',
		notes: [
			'Times are seconds from the start of the source. Damaged lines are left out and counted; what else a table of readings cannot hold is said on standard error. With --listen or --websocket nothing is printed unless -o names a file; a reader that is too slow is dropped.',
		],
		arguments: [source],
		options: [
			...sourceOptions,
			'reattach',
			'for',
			'session',
			'format',
			'line',
			'values',
			'columns',
			'resample',
			'bits',
			'stamp',
			'output',
			'force',
			'listen',
			'websocket',
			'host',
		],
		meanings: {
			for: 'How long to read. Default: to the end, or until stopped.',
			session: 'Which of the sessions that a log holds. Default: the last; through a pipe, all.',
			stamp: 'With --format comma or labels: writes seconds before every line.',
			listen: 'Serves live readings on this port of this machine, 0 for any free one.',
			host: 'The address to listen on, so that other machines can connect: whoever does can read the hand. Default: 127.0.0.1, which only this machine reaches.',
		},
		examples: [
			{line: 'glovebench frames left.gbrec -o left.csv', does: 'a table for a notebook or a spreadsheet'},
			{line: "glovebench frames COM5 --line 'T{thumb} I{index}'", does: 'lines as another program wants them'},
			{line: 'glovebench frames /dev/ttyUSB0 --listen 4000', does: 'live readings at tcp://127.0.0.1:4000'},
			{line: 'glovebench frames left.gbrec --values bend --sheet left.toml', does: '0 = open, 1 = closed'},
		],
	},
	{
		name: 'link',
		summary: 'Walk test of a link: loss, delay and outages, stretch by stretch',
		notes: [
			'No screen is needed: put the glove on and walk. Each press of a button of the glove (or three quick fists) sets a mark in the stream itself, such as one a metre, or one a room; the table then goes from mark to mark, else by time. A counter in the frames tells losses exactly, a clock of the board tells delays. Do not walk on stairs with a trailing cable.',
		],
		arguments: [source],
		options: [...sourceOptions, 'for', 'session', 'window', 'mark', 'other', 'json', 'html'],
		meanings: {
			for: 'How long to read a port. Default: until Ctrl-C, which ends the walk and prints the table.',
			html: 'Also writes the account as one self-contained page.',
		},
		examples: [
			{line: 'glovebench link /dev/ttyUSB0', does: 'until Ctrl-C, then the table'},
			{line: 'glovebench link walk.gbrec --mark button-1 --html walk.html', does: 'from press to press, and a page'},
			{line: 'glovebench link radio.gbrec --other cable.gbrec', does: 'the radio beside the cable'},
		],
	},
	{
		name: 'explain',
		summary: 'Says what a finding means, what to measure and how to mend it',
		notes: ['Without a code it lists them all.'],
		arguments: [{name: 'CODE', kind: 'code', optional: true, help: "A finding's code, such as floating-input."}],
		options: ['symptom', 'all', 'json', 'markdown'],
		examples: [
			{line: 'glovebench explain', does: 'every code in a line'},
			{line: 'glovebench explain floating-input', does: 'one of them in full'},
			{line: "glovebench explain --symptom 'ring jumps'", does: 'the codes that it may be'},
		],
	},
	{
		name: 'plan',
		summary: 'Tells from the sheet, before building, what will not work and what to expect',
		arguments: [{name: 'SHEET', kind: 'file', help: 'The sheet (.toml).'}],
		options: ['json'],
		examples: [{line: 'glovebench plan glove.toml', does: 'pins, converter, link, current, battery time'}],
	},
	{
		name: 'simulate',
		summary: 'Plays a physical model of a glove, with any fault on request',
		notes: [
			'To standard output in real time, to a recording or log (-o), or to whoever connects (--listen). Ends after --for, which is 30s for a file.',
		],
		arguments: [],
		options: [
			'output',
			'force',
			'listen',
			'host',
			'for',
			'fault',
			'reel',
			'script',
			'seed',
			'board',
			'firmware',
			'layout',
			'format',
			'rate',
			'baud',
			'fast',
			'stamp',
			'poses',
			'tracker',
		],
		meanings: {
			output: 'A recording (.gbrec, .gbrec.gz) or, under any other name, a plain log.',
			for: 'How long to play.',
			layout: 'What the glove has, in order. Default: five fingers, a stick, two buttons.',
			rate: 'Frames per second. Default: 100.',
			baud: 'Speed of the serial line. Default: what the frames need, at least 115200.',
		},
		examples: [
			{line: 'glovebench simulate --fault floating-input:ring --fast --for 20s', does: 'an open wiper, printed'},
			{line: "glovebench simulate -o tap.gbrec --script 'rest 2s, tap index 12x'", does: 'a recording of fast tapping'},
			{line: 'glovebench simulate --poses poses.csv --seed 3', does: "a log of a tracker's poses for mount"},
			{line: 'glovebench simulate --listen 3333', does: 'a glove to attach to: tcp://127.0.0.1:3333'},
		],
	},
	{
		name: 'demo',
		summary: 'Shows a simulated glove whose faults come and go; needs no hardware',
		notes: ["Without a terminal it prints check's report on the same session. Its faults are intended: status 0."],
		arguments: [],
		options: ['json', 'markdown', 'full', 'record', 'force', 'bell', 'page', ...screenOptions],
		examples: [{line: 'glovebench demo', does: 'the left hand of a puppet dragon'}],
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
