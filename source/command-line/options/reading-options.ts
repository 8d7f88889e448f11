import {baudRange} from '../../baud-range.ts';
import {handednesses} from '../../mount/gesture-words.ts';
import {directions, hands, lengthUnits, orders, upAxes} from '../../mount/pose-form.ts';
import type {OptionEntry} from '../option-entry.ts';
import {moment} from './value-forms.ts';

/** Options that say what is read and how. */
export const readingOptions = {
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
	reattach: {kind: 'switch', help: 'After the port or the connection is lost, waits for it to come back.'},
	at: {...moment, help: 'Where to begin.'},
	hold: {kind: 'switch', help: 'Begins held instead of playing.'},
	speed: {
		kind: 'number',
		value: 'FACTOR',
		least: 0.01,
		most: 1000,
		takes: 'a factor such as 2 or 0.5',
		help: 'How fast to play, times real time.',
	},
	all: {kind: 'switch', help: 'Everything there is.'},
	fresh: {kind: 'switch', help: 'Begins anew instead of going on where the last bring-up was broken off.'},
	session: {
		kind: 'whole',
		value: 'N',
		least: 1,
		most: 100_000,
		takes: 'the number of a session, 1 for the first',
		help: 'Which of the sessions that a log holds. Default: the last.',
	},
	from: {...moment, help: 'Where the span begins.'},
	to: {...moment, help: 'Where the span ends.'},
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
} as const satisfies Record<string, OptionEntry>;
