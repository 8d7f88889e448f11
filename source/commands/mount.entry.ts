import type {CommandEntry} from '../command-line/command-entry.ts';
import {screenOptions} from '../command-line/shared-entries.ts';

/** `glovebench mount`, as help, completions, the manual page and the reading of the command line know it. */
export const mountEntry: CommandEntry = {
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
};
