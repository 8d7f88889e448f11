import {Framer} from '../../source/framing/framer.ts';
import {handFrames, Recorder} from './record-framer.ts';

/** Thirty lines of a hand, without their ends. */
export const lines = handFrames(30).map(values => values.join());

/** All that a framer tells of bytes that come cut at these offsets. */
export function logOf(input: Uint8Array, cuts: readonly number[]): {log: string[]; nonText: number; lines: number} {
	const recorder = new Recorder();
	const framer = new Framer(recorder, {maxLineBytes: 80});
	let from = 0;
	for (const cut of [...cuts, input.length]) {
		framer.push(0, input.slice(from, cut));
		from = cut;
	}

	framer.end(0);
	return {log: recorder.log, nonText: framer.nonTextBytes, lines: framer.lineCount};
}

/** Frames in several layouts, and every kind of line that is none. */
export const pieces = [
	...lines.slice(0, 9).map(line => `${line}\r\n`),
	'512,4\r\n',
	'ets Jul 29 2019 12:21:46\r\n\r\n',
	'load:0x3fff0030,len:1184,load:0x40078000,len:12784,x:1\n',
	`${lines[10]}${lines[11]}\r\n`,
	`${'9'.repeat(100)}\r\n`,
	...lines.slice(12, 20).map(line => `${line}\r`),
	'{"thumb":5,"index":7}\n',
	'\u0000\u00001,2,3,4,5\n',
	'µ Ω ° é\n',
	...lines.slice(0, 10).map(line => `${line.replaceAll(',', ';')};0\n`),
	...lines.slice(20).map(line => `${line}\n`),
	'512,498,600,71',
];

/** All of them in a row, and bytes that are no text. */
export const stream = Buffer.concat([
	...pieces.map(piece => Buffer.from(piece)),
	Buffer.from([0xc3, 0x28, 0xff, 0x00, 0x0a]),
]);
