import type {Glyphs} from '../screen/look.ts';
import type {Row} from '../screen/rows.ts';
import {formatTime} from './format-number.ts';

/** Where a replay is, and what lies where in it. */
export type Position = {
	/** Stream seconds. */
	readonly t: number;
	readonly duration: number;
	readonly playing: boolean;
	readonly speed: number;
	readonly loop: boolean;
	/** Stream seconds up to which the recording has been looked through for findings; `duration` when done. */
	readonly readTo: number;
	readonly findings: readonly number[];
	readonly marks: readonly number[];
};

/**
 * The replay's position in one line: state and speed, time, a ruler with findings and notes on it, the whole length.
 * The part not looked through yet is dotted.
 */
export function positionRow(position: Position, width: number, glyphs: Glyphs): Row {
	const {t, duration, playing, speed, loop, readTo, findings, marks} = position;
	const state = playing ? `${glyphs.playing} play` : `${glyphs.held} held`;
	const head = ` ${state} ${speed}x${loop ? ' loop' : ''}  ${formatTime(t, 1)} `;
	const tail = ` ${formatTime(duration, 1)} `;
	const columns = Math.max(0, width - head.length - tail.length);
	const column = (seconds: number) =>
		duration > 0 ? Math.max(0, Math.min(columns - 1, Math.round((seconds / duration) * (columns - 1)))) : 0;
	const cells = new Array<string>(columns).fill(glyphs.rule);
	if (readTo < duration) cells.fill(glyphs.beyond, column(readTo) + 1);
	for (const seconds of marks) cells[column(seconds)] = glyphs.noteMark;
	for (const seconds of findings) cells[column(seconds)] = glyphs.findingMark;
	if (columns > 0) cells[column(t)] = glyphs.position;
	return [
		{text: ` ${state} `, tone: playing ? 'plain' : 'strong'},
		{text: head.slice(state.length + 2)},
		{text: cells.join('')},
		{text: tail},
	];
}
