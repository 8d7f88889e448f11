import {expect, test} from 'vitest';
import {Framer} from '../../source/framing/framer.ts';
import {Session} from '../../source/session/session.ts';
import {fists} from '../gloves/draw.ts';
import {bytesOf, Collected, frameBytes, frameLines, handRows} from './collect.ts';

const rows = handRows(60, 7);
const glove = ['thumb', 'index', 'middle', 'ring', 'little', 'stick-x', 'stick-y'];

/** What a board may put around the frames of a live stream, with where each form is described. */
const dressings: readonly (readonly [name: string, dress: (frame: string, i: number) => string])[] = [
	// ECMA-48: SGR (8.3.117), erase in line (8.3.41), a title as OSC (8.3.89).
	['colours', frame => `\u001b[32m${frame}\u001b[0m`],
	['colours between the values', frame => frame.replaceAll(',', '\u001b[1;31m,\u001b[0m')],
	['an erased line', frame => `\u001b[2K${frame}`],
	['a title', frame => `\u001b]0;glove\u0007${frame}`],
	// ESP-IDF Programming Guide, "Logging library".
	[
		'the head of its logging',
		(frame, i) => `\u001b[0;3${i % 3}m${'EWI'[i % 3]} (${1000 + 10 * i}) glove: ${frame}\u001b[0m`,
	],
	// Zephyr documentation, "Logging".
	['another head', (frame, i) => `[00:00:0${i % 10}.010,000] <inf> glove: ${frame}`],
	['a level', (frame, i) => `[${['INFO', 'DEBUG'][i % 2]}] ${frame}`],
	// NMEA 0183: an asterisk and two hexadecimal digits.
	['a checksum', (frame, i) => `${frame}*${(17 * i + 3).toString(16).padStart(2, '0').slice(-2).toUpperCase()}`],
	['a sum', (frame, i) => `${frame}*${17 * i}`],
];

test.each(dressings)('frames in %s are the plain ones', (_, dress) => {
	const {frames, names, bad, stray} = frameLines(rows.map((row, i) => dress(row.join(), i)));
	expect(frames).toEqual(rows);
	expect(names).toEqual(glove);
	expect([bad, stray]).toEqual([[], []]);
});

test.each(dressings)('frames in %s are the same wherever the bytes are cut', (_, dress) => {
	const bytes = bytesOf(rows.map((row, i) => `${dress(row.join(), i)}\r\n`).join(''));
	const whole = frameBytes(bytes, {}, bytes.length);
	for (const cut of [1, 2, 7, 64]) expect(frameBytes(bytes, {}, cut).frames).toEqual(whole.frames);
});

test('lines are counted out of which colours, and off which a head of logging was taken', () => {
	const framer = new Framer(new Collected());
	const heads = ['\u001b[32m', 'I (1000) glove: ', '', '\u001b[31mE (1010) glove: '];
	for (const [i, row] of rows.entries()) framer.push(i / 100, bytesOf(`${heads[i % 4]}${row.join()}\n`));
	framer.end(1);
	expect([framer.colouredLines, framer.headedLines, framer.lineCount]).toEqual([30, 30, 60]);
});

test('two labelled gloves are two hands to every check', () => {
	const session = new Session({timing: 'assumed'});
	const names = ['left', 'right'].flatMap(hand => glove.slice(0, 5).map(name => `${hand}.${name}`));
	handRows(60, 10).forEach((row, i) => {
		session.push({t: i / 100, bytes: bytesOf(`${row.map((value, c) => `${names[c]}=${value}`).join(' ')}\n`)});
	});
	session.end();
	expect(session.features.hands.map(({fingers}) => fingers)).toEqual([
		[0, 1, 2, 3, 4],
		[5, 6, 7, 8, 9],
	]);
});

test('two gloves that do the same are no duplicates of each other', () => {
	const session = new Session({timing: 'measured', fullScale: 1023});
	const fingers = glove.slice(0, 5);
	for (let i = 0; i < 900; i++) {
		const line = ['left', 'right'].flatMap(hand =>
			fingers.map(
				(name, f) =>
					`${hand}.${name}=${Math.round(10.23 * fists({open: 20, closed: 60 + 4 * f, from: 1 + 0.04 * f, times: 4})(i / 100))}`,
			),
		);
		session.push({t: i / 100, bytes: bytesOf(`${line.join(' ')}\n`)});
	}
	session.end();
	expect(session.features.hands).toHaveLength(2);
	expect(session.findings).toEqual([]);
});

test('a header that comes once more in between is told, since a board that starts again prints it', () => {
	const lines = rows.map(row => row.join());
	const header = glove.join();
	expect(frameLines([header, ...lines.slice(0, 37), header, ...lines.slice(37)]).stray).toEqual([header, header]);
	expect(frameLines([header, ...lines.slice(0, 30), header, ...lines.slice(30)]).stray).toEqual([header]);
});
