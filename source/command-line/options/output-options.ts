import {valueKinds} from '../../frames/frame-words.ts';
import type {OptionEntry} from '../option-entry.ts';
import {portNumber} from './value-forms.ts';

/** Options that say what is written, in which form and where to. */
export const outputOptions = {
	json: {kind: 'switch', help: 'Prints JSON.'},
	markdown: {kind: 'switch', help: 'Prints a report of at most 2,000 characters for a chat or a forum.'},
	full: {kind: 'switch', help: 'With --markdown: everything, however long.'},
	output: {kind: 'file', value: 'FILE', short: 'o', help: 'The file to write.'},
	note: {kind: 'text', value: 'TEXT', takes: 'a note', help: 'A note to keep in the recording.'},
	force: {kind: 'switch', help: 'Replaces a file that is there.'},
	record: {kind: 'file', value: 'FILE', help: 'Keeps everything received in this recording.'},
	format: {
		kind: 'choice',
		value: 'FORMAT',
		words: ['comma', 'tab', 'space', 'semicolon', 'labels', 'header', 'json', 'slip', 'cobs'],
		help: 'How frames are written.',
	},
	fast: {kind: 'switch', help: 'Writes to standard output as fast as it is taken instead of in real time.'},
	stamp: {kind: 'switch', help: 'Writes seconds before every line.'},
	listen: {
		...portNumber,
		help: 'Serves the stream on this port of this machine, 0 for any free one.',
	},
	host: {
		kind: 'text',
		value: 'ADDRESS',
		takes: 'an address of this machine, such as 0.0.0.0 or ::',
		help: 'With --listen: the address to listen on, so that other machines can connect. Default: 127.0.0.1, which only this machine reaches.',
	},
	list: {kind: 'switch', help: 'Lists all there is.'},
	svg: {
		kind: 'file',
		value: 'DIR',
		help: 'Also writes each chart of the page into this folder, as a picture of its own (SVG).',
	},
	header: {kind: 'switch', help: 'Prints a C header.'},
	html: {
		kind: 'file',
		value: 'FILE',
		help: 'Also writes the report as one self-contained page: the short form of glovebench report.',
	},
	follow: {
		kind: 'switch',
		help: 'Prints what happens as it happens until the source ends; with --json one object per line.',
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
	websocket: {
		...portNumber,
		help: 'Serves the readings as NDJSON over WebSockets on this port of this machine.',
	},
} as const satisfies Record<string, OptionEntry>;
