import type {ReadInfo} from '../session/run-session.ts';
import type {Snapshot, Verdict} from '../session/snapshot.ts';
import {escapeText} from '../text/escape-text.ts';
import {countText, secondsText} from './figures-text.ts';
import {placeText} from './finding-text.ts';
import {mostPressingFirst, verdictWord} from './verdict-text.ts';

/** One source of several: what came of it, or why it could not be read. */
export type TableRow =
	| {readonly name: string; readonly snapshot: Snapshot; readonly info: ReadInfo}
	| {readonly name: string; readonly why: string};

const worstFirst: readonly Verdict[] = ['fail', 'attention', 'unproven', 'pass'];
const longestName = 40;

/**
 * Several sources as a table, a line on each: what could not be read first, then the worst verdict, then the most
 * findings, then the order given. Names and device text are escaped.
 */
export function sourcesTable(rows: readonly TableRow[]): string {
	const names = rows.map(({name}) => escapeText(name, longestName));
	const width = Math.max(6, ...names.map(name => name.length));
	const told = rows.map((row, place) => {
		const name = names[place].padEnd(width);
		if ('why' in row)
			return {rank: -1, count: 0, place, line: `${'UNREAD'.padEnd(9)}  ${name}  ${escapeText(row.why)}`};
		const {snapshot, info} = row;
		const [first] = mostPressingFirst(snapshot.findings, snapshot.channels);
		const more = snapshot.findings.length > 1 ? ` and ${snapshot.findings.length - 1} more` : '';
		const found = first === undefined ? 'nothing found' : `${placeText(first)}: ${first.code}${more}`;
		const sessions = (info.sessions?.length ?? 1) > 1 ? ` (session ${info.part} of ${info.sessions?.length})` : '';
		return {
			rank: worstFirst.indexOf(snapshot.verdict),
			count: snapshot.findings.length,
			place,
			line: `${verdictWord(snapshot.verdict).padEnd(9)}  ${name}  ${secondsText(snapshot.t).padStart(11)}  ${countText(snapshot.link.frames, 'frame').padStart(14)}  ${escapeText(found)}${sessions}`,
		};
	});
	const sorted = told.sort((a, b) => a.rank - b.rank || b.count - a.count || a.place - b.place);
	return `${sorted.map(({line}) => line).join('\n')}\nOne of them in full: glovebench check SOURCE\n`;
}
