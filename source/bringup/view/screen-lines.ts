import {escapeText} from '../../text/escape-text.ts';
import {bringUpKeys} from './keys.ts';

/** One channel's bar: shares of full scale, 0…1; NaN while there is no reading. */
export type ChannelBar = {
	readonly name: string;
	readonly now: number;
	readonly low: number;
	readonly high: number;
	/** What its step has found; empty before. */
	readonly answer: string;
	/** True for the one that is asked for now. */
	readonly isAsked: boolean;
};

/** Everything the screen of the routine shows. */
export type ScreenState = {
	readonly source: string;
	readonly framesPerSecond: number | null;
	readonly stepNumber: number;
	readonly stepCount: number;
	/** null once all is done, or before the first frame. */
	readonly prompt: string | null;
	readonly count: number;
	readonly need: number;
	readonly hint: string | null;
	/** What the step before found. */
	readonly last: string | null;
	readonly bars: readonly ChannelBar[];
	readonly caution: string;
};

export type ScreenLine = {readonly text: string; readonly tone?: 'strong' | 'quiet' | 'alert'};

const nameColumns = 10;
/** Of a bar on 80 columns; it grows with them, so far. */
const barColumns = 28;
const mostBarColumns = 60;

/** The screen as lines of at most `columns`, never more than `rows` of them: bars give way first. */
export function screenLines(state: ScreenState, columns: number, rows: number): ScreenLine[] {
	const rate = state.framesPerSecond === null ? '' : `, ${Math.round(state.framesPerSecond)} frames/s`;
	const place = `step ${Math.min(state.stepNumber, state.stepCount)} of ${state.stepCount}`;
	const progress =
		state.need > 1
			? `${'#'.repeat(state.count)}${'.'.repeat(Math.max(0, state.need - state.count))}  ${state.count} of ${state.need}`
			: '';
	const head: ScreenLine[] = [
		{text: spread(`Bring-up of ${state.source}${rate}`, state.stepCount > 0 ? place : '', columns), tone: 'quiet'},
		{text: ''},
		{text: state.prompt ?? 'Waiting for frames: is the board sending?', tone: 'strong'},
		{text: progress},
		state.hint === null ? {text: state.last ?? ''} : {text: state.hint, tone: 'alert'},
		{text: ''},
	];
	const foot: ScreenLine[] = [
		{text: ''},
		...(rows >= 20 ? wrapped(state.caution, columns).map((text): ScreenLine => ({text, tone: 'quiet'})) : []),
		{text: bringUpKeys.map(({key, help}) => `${key} ${help}`).join('   '), tone: 'quiet'},
	];
	const room = Math.max(0, rows - 1 - head.length - foot.length);
	// The one that is asked for must stay in sight.
	const asked = Math.max(0, state.bars.findIndex(({isAsked}) => isAsked) - room + 1);
	const bars = state.bars.slice(asked, asked + room).map(bar => barLine(bar, columns));
	return [...head, ...bars, ...foot].map(line => ({...line, text: cut(escapeText(line.text), columns)}));
}

function barLine({name, now, low, high, answer, isAsked}: ChannelBar, columns: number): ScreenLine {
	const wanted = Math.min(mostBarColumns, barColumns + Math.max(0, columns - 80));
	const width = Math.max(8, Math.min(wanted, columns - nameColumns - 8));
	const cell = (share: number) => Math.max(0, Math.min(width - 1, Math.floor(share * width)));
	const cells = new Array<string>(width).fill('.');
	if (low <= high) cells.fill('-', cell(low), cell(high) + 1);
	if (!Number.isNaN(now)) cells[cell(now)] = '#';
	const mark = isAsked ? '>' : ' ';
	const text = `${mark}${name.padEnd(nameColumns)}[${cells.join('')}]  ${answer}`;
	return isAsked ? {text, tone: 'strong'} : {text};
}

function spread(left: string, right: string, columns: number): string {
	const gap = columns - left.length - right.length;
	return gap >= 2 ? `${left}${' '.repeat(gap)}${right}` : right === '' ? left : `${right}  ${left}`;
}

function wrapped(text: string, columns: number): string[] {
	const lines: string[] = [];
	let line = '';
	for (const word of text.split(' ')) {
		if (line !== '' && line.length + 1 + word.length > columns) {
			lines.push(line);
			line = word;
		} else line += line === '' ? word : ` ${word}`;
	}

	return [...lines, line];
}

function cut(text: string, columns: number): string {
	return text.length <= columns ? text : text.slice(0, columns);
}
