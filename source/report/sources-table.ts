import {itemAt} from '../item-at.ts';
import {isCut} from '../session/cut-text.ts';
import type {ReadInfo} from '../session/run-session.ts';
import type {Snapshot, Verdict} from '../session/snapshot.ts';
import {escapeText} from '../text/escape-text.ts';
import {fitLeft, fitRight} from '../text/fit-text.ts';
import {countText, secondsText} from '../text/number-text.ts';
import {textWidth} from '../text/text-width.ts';
import {wrapText} from '../text/wrap-text.ts';
import {placeText} from './finding-text.ts';
import {notJudgedText} from './not-judged-text.ts';
import {mostPressingFirst, verdictWord} from './verdict-text.ts';

/** One source of several: what came of it, or why it could not be read. */
export type TableRow =
	| {readonly name: string; readonly snapshot: Snapshot; readonly info: ReadInfo}
	| {readonly name: string; readonly why: string};

const worstFirst: readonly Verdict[] = ['fail', 'attention', 'unproven', 'pass'];
const longestName = 40;

/** Columns of the word that a source begins with. */
const wordColumns = 'ATTENTION'.length;

/** Where what is said of a source goes on under its name. */
const indent = ' '.repeat(wordColumns + 2);

/** Movements told of each source that would show more; the others are counted. */
const mostMovements = 1;

/**
 * Several sources as a table of at most `width` columns: what could not be read first, then the worst verdict, then the
 * most findings, then the order given. A line on each, or two where one is too narrow; then what was not judged in it.
 * Names and device text are escaped.
 */
export function sourcesTable(rows: readonly TableRow[], width = 80): string {
	const told = rows.map((row, place) => {
		const name = escapeText(row.name, longestName);
		if ('why' in row) return {rank: -1, count: 0, place, word: 'UNREAD', name, said: [], more: row.why};
		const {snapshot, info} = row;
		const [first] = mostPressingFirst(snapshot.findings, snapshot.channels);
		const others = snapshot.findings.length > 1 ? ` and ${snapshot.findings.length - 1} more` : '';
		const found = first === undefined ? 'nothing found' : `${placeText(first)}: ${first.code}${others}`;
		const sessions = (info.sessions?.length ?? 1) > 1 ? ` (session ${info.part} of ${info.sessions?.length})` : '';
		const cut = isCut(snapshot.events) ? ', breaks off' : '';
		return {
			rank: worstFirst.indexOf(snapshot.verdict),
			count: snapshot.findings.length,
			place,
			word: verdictWord(snapshot.verdict),
			name,
			said: [
				secondsText(snapshot.t),
				countText(snapshot.link.frames, 'frame'),
				escapeText(`${found}${sessions}${cut}`),
			],
			more: notJudgedText(snapshot, mostMovements),
		};
	});
	const sorted = told.sort((a, b) => a.rank - b.rank || b.count - a.count || a.place - b.place);
	const widest = (texts: readonly string[]) => Math.max(0, ...texts.map(textWidth));
	const names = widest(sorted.map(({name}) => name));
	const times = widest(sorted.map(({said}) => said[0] ?? ''));
	const frames = widest(sorted.map(({said}) => said[1] ?? ''));
	const heads = sorted.map(({word, name, said: [time, count, found]}) =>
		time === undefined
			? `${word.padEnd(wordColumns)}  ${name}`
			: `${word.padEnd(wordColumns)}  ${fitLeft(name, names)}  ${fitRight(time, times)}  ${fitRight(count ?? '', frames)}  ${found}`,
	);
	const isNarrow = heads.some(line => textWidth(line) > width);
	const lines = sorted.flatMap(({word, name, said, more}, index) => [
		...(isNarrow && said.length > 0
			? [`${word.padEnd(wordColumns)}  ${name}`, ...wrapText(said.join(', '), width, indent)]
			: [itemAt(heads, index)]),
		...(more === '' ? [] : wrapText(escapeText(more), width, indent)),
	]);
	return `${lines.join('\n')}\nOne of them in full: glovebench check SOURCE\n`;
}
