import type {CommandEntry} from '../command-line/command-entry.ts';

/** `glovebench simulate`, as help, completions, the manual page and the reading of the command line know it. */
export const simulateEntry: CommandEntry = {
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
};
