import {asciiText} from '../text/ascii-text.ts';
import {escapeText} from '../text/escape-text.ts';
import {figureText, fixedText, secondsText} from '../text/number-text.ts';
import {wrapText} from '../text/wrap-text.ts';
import type {LinkAccount, Stretch} from './link-account.ts';

/** An account with the name of its source. */
export type NamedAccount = {readonly name: string; readonly account: LinkAccount};

const levels = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];
const asciiLevels = ['_', '.', '-', '=', '+', '*', '%', '#'];

const heads = ['frames', 'lost %', '95 %', 'burst', 'p50', 'p95', 'p99 ms', 'outage', 'verdict'];
const widths = [7, 6, 9, 5, 5, 5, 6, 8, 8];

/** Headings of the columns of every table of stretches, and the figures under them. */
export const stretchHeads: readonly string[] = heads;

export function stretchCells(stretch: Stretch): string[] {
	const {frames, lostPercent, lost95, meanBurst, delayMs, longestOutageMs, verdict} = stretch;
	const figure = (value: number | undefined): string => figureText(value, 3, '-');
	return [
		String(frames),
		fixedText(lostPercent, lostPercent !== null && lostPercent < 10 ? 2 : 1),
		`${fixedText(lost95[0], 1)}-${fixedText(lost95[1], 1)}`,
		fixedText(meanBurst, 1),
		figure(delayMs?.p50),
		figure(delayMs?.p95),
		figure(delayMs?.p99),
		longestOutageMs === null ? '-' : `${Math.round(longestOutageMs)} ms`,
		verdict,
	];
}

/** One stretch in a line, for whoever watches while it is walked. */
export function stretchSentence(stretch: Stretch): string {
	const {lost, frames, lostPercent, delayMs, longestOutageMs, verdict} = stretch;
	const parts = [
		frames === 0 ? 'no frame' : `${lost} of ${frames + lost} frames lost (${fixedText(lostPercent, 1)} %)`,
		...(delayMs === null ? [] : [`95 % within ${figureText(delayMs.p95)} ms of the quickest`]),
		...(longestOutageMs === null ? [] : [`nothing for ${Math.round(longestOutageMs)} ms`]),
	];
	return `${stretchName(stretch, false)}: ${parts.join(', ')}: ${verdict}`;
}

/** What a stretch is called in a table. */
export function stretchName({from, to, mark}: Stretch, isMarked: boolean): string {
	const times = `${Math.round(from)}-${Math.round(to)} s`;
	return isMarked ? `${mark === null ? 'before' : escapeText(mark, 20)}: ${times}` : times;
}

/** Figures over the windows as a row of blocks: from 0 to the largest. */
function chartRow(values: readonly (number | null)[], ascii: boolean, cells: number): string {
	const most = Math.max(...values.map(value => value ?? 0));
	const signs = ascii ? asciiLevels : levels;
	const count = Math.min(cells, values.length);
	return Array.from({length: count}, (_, i) => {
		const part = values.slice(Math.floor((i * values.length) / count), Math.floor(((i + 1) * values.length) / count));
		const value = Math.max(...part.map(each => each ?? 0));
		if (part.every(each => each === null)) return ' ';
		return most === 0 ? signs[0] : signs[Math.min(signs.length - 1, Math.floor((value / most) * signs.length))];
	}).join('');
}

function chart(
	name: string,
	unit: string,
	values: readonly (number | null)[],
	ascii: boolean,
	columns: number,
): string[] {
	if (values.length < 2 || values.every(value => value === null)) return [];
	const most = Math.max(...values.map(value => value ?? 0));
	return [`${name.padEnd(10)} ${chartRow(values, ascii, columns - 32)}  up to ${figureText(most)} ${unit}`];
}

function table(first: string, rows: readonly (readonly [name: string, stretch: Stretch])[]): string[] {
	const wide = Math.max(first.length, ...rows.map(([name]) => name.length));
	const line = (name: string, cells: readonly string[]): string =>
		`${name.padEnd(wide)}${cells.map((cell, i) => cell.padStart(widths[i])).join(' ')}`;
	return [line(first, heads), ...rows.map(([name, stretch]) => line(name, stretchCells(stretch)))];
}

/** One sentence that tells how the link is, and where it is worst. */
export function linkSentence({whole, worst, lossBy}: LinkAccount): string {
	const lost =
		lossBy === null
			? 'losses cannot be told'
			: `${whole.lost} of ${whole.frames + whole.lost} frames lost (${fixedText(whole.lostPercent, 2)} %)${lossBy === 'spacing' ? ', an estimate' : ''}`;
	const where =
		worst === null || lossBy === null
			? ''
			: `; worst ${secondsText(worst.to - worst.from)} from ${secondsText(worst.from)} on: ${fixedText(worst.lostPercent, 1)} %`;
	const out =
		whole.outages === 0
			? ''
			: `; ${whole.outages === 1 ? 'one outage' : `${whole.outages} outages`}, the longest ${Math.round(whole.longestOutageMs ?? 0)} ms`;
	return `${whole.verdict.toUpperCase()}: ${lost}${where}${out}.`;
}

/** The account of one link for a terminal, or of two side by side. At most `columns` wide. Ends with a line end. */
export function linkText(
	{name, account}: NamedAccount,
	other: NamedAccount | undefined,
	{ascii = false, columns = 80}: {readonly ascii?: boolean; readonly columns?: number},
): string {
	const isMarked = account.stretches !== account.windows;
	const {skewPpm} = account;
	const lines = [
		...wrapText(`${escapeText(name, 60)}: ${linkSentence(account)}`, columns),
		...(other === undefined ? [] : wrapText(`${escapeText(other.name, 60)}: ${linkSentence(other.account)}`, columns)),
		'',
		...(isMarked ? [`Marks by ${escapeText(account.markedBy ?? '', 40)}: ${account.marks.length}`] : []),
		...table(
			isMarked ? 'stretch' : 'time',
			account.stretches.map(stretch => [stretchName(stretch, isMarked), stretch]),
		),
		'',
		...chart(
			'lost',
			'%',
			account.windows.map(({lostPercent}) => lostPercent),
			ascii,
			columns,
		),
		...chart(
			'delay p95',
			'ms',
			account.windows.map(({delayMs}) => delayMs?.p95 ?? null),
			ascii,
			columns,
		),
		...(skewPpm === null
			? []
			: wrapText(
					`The board's clock runs ${Math.abs(skewPpm) < 0.5 ? "as fast as this computer's" : `${figureText(Math.abs(skewPpm))} millionths ${skewPpm > 0 ? 'slower' : 'faster'} than this computer's`}.`,
					columns,
				)),
		...(other === undefined
			? []
			: [
					'',
					...table('side by side', [
						[shortened(name), account.whole],
						[shortened(other.name), other.account.whole],
					]),
				]),
		...account.notes.flatMap(note => wrapText(note, columns)),
	];
	return lines.map(line => `${ascii ? asciiText(line) : line}\n`).join('');
}

/** As long as the heading above it. */
const shortName = 'side by side'.length;

/** The end of a name tells more than its beginning. */
function shortened(name: string): string {
	const text = escapeText(name, 200);
	return text.length <= shortName ? text : `…${text.slice(1 - shortName)}`;
}
