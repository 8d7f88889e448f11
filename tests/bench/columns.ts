import {closeSync, openSync, writeSync} from 'node:fs';
import path from 'node:path';
import {checkProgram} from './check-hour.ts';
import {framesPerSecond, gloveLines} from './hour-log.ts';
import {timeInTurn} from './timed.ts';

const fingers = ['thumb', 'index', 'middle', 'ring', 'little'];

/** Columns of a log, and minutes of it: as many readings each. */
const sizes = [
	[12, 12],
	[64, 3],
	[256, 1],
] as const;

/** What a column costs where all of them are fingers of one hand by their labels, and whether memory grows with the length. */
export function benchColumns(folder: string): void {
	console.log('check --json of fingers of one hand by label, once');
	for (const [columns, minutes] of sizes) {
		const [short, long] = [1, 2].map(times => {
			const file = path.join(folder, `${columns}-${times}.log`);
			writeFingers(file, columns, times * minutes);
			return file;
		});
		const timed = timeInTurn({short: checkProgram(short), long: checkProgram(long)}, 1);
		const {short: one, long: two} = timed;
		if (one === undefined || two === undefined) continue;
		// The same start is in both.
		const frames = minutes * 60 * framesPerSecond;
		const perFrame = (two.cpuSeconds - one.cpuSeconds) / frames;
		console.log(
			`  ${String(columns).padStart(3)} columns: ${(1e6 * perFrame).toFixed(1)} µs a frame, ${((1e6 * perFrame) / columns).toFixed(2)} µs a column; ${minutes} min ${one.peakMib.toFixed(0)} MiB, ${2 * minutes} min ${two.peakMib.toFixed(0)} MiB`,
		);
	}
}

/** Writes fingers side by side, each column with its label; numbered names tell of no other hand. */
function writeFingers(file: string, columns: number, minutes: number): void {
	const out = openSync(file, 'w');
	for (const line of gloveLines(minutes * 60 * framesPerSecond, 24)) {
		const hands = line.split(',').slice(0, 10);
		const values = Array.from(
			{length: columns},
			(_, c) => `h${Math.floor(c / 5) + 1}_${fingers[c % 5]}:${hands[c % hands.length]}`,
		);
		writeSync(out, `${values.join(' ')}\r\n`);
	}
	closeSync(out);
}
