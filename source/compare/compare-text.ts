import {findingName} from '../faults/plain-name.ts';
import {statusText, verdictWord} from '../report/verdict-text.ts';
import {escapeText} from '../text/escape-text.ts';
import {foldTable} from '../text/fold-table.ts';
import {figureText, secondsText} from '../text/number-text.ts';
import {wrapText} from '../text/wrap-text.ts';
import type {ComparedFinding} from './compare-findings.ts';
import type {Comparison, Side} from './comparison.ts';
import {channelTable, linkTable, type Table} from './comparison-rows.ts';

/** The comparison for a terminal, at most `columns` wide, ending with a line end. */
export function compareText(comparison: Comparison, columns = 80): string {
	const {a, b, findings, changes, verdict} = comparison;
	const groups = [
		findingLines('gone', findings.gone, columns),
		findingLines('new', findings.appeared, columns),
		findingLines('remaining', findings.remaining, columns),
		findingLines('not tested', findings.untested, columns),
	].flat();
	const lines = [
		...wrapText(`${verdict.word.toUpperCase()}: ${verdict.sentence}`, columns),
		...sideLines('A', a, columns),
		...sideLines('B', b, columns),
		...(groups.length > 0 ? ['', 'Findings', ...groups] : []),
		...(changes.length > 0 ? ['', 'Changes', ...changes.flatMap(text => wrapText(text, columns, '- '))] : []),
		'',
		...wrapText('Channels (percent of full scale; noise is rms at rest)', columns),
		...tableLines(channelTable(comparison), columns),
		'',
		...tableLines(linkTable(comparison), columns),
	];
	return `${lines.map(line => escapeText(line)).join('\n')}\n`;
}

function sideLines(letter: string, side: Side, columns: number): string[] {
	const {name, seconds, frames, notJudged} = side;
	return [
		...wrapText(
			`${name}: ${secondsText(seconds)}, ${figureText(frames)} frames, ${sideVerdict(side)}`,
			columns,
			`${letter}  `,
		),
		...(notJudged === '' ? [] : wrapText(notJudged, columns, '   ')),
	];
}

/** `FAIL`, `UNPROVEN; not yet proven: ring (move it)`; says that it breaks off. */
export function sideVerdict({verdict, leftToProve, cut}: Side): string {
	const left = leftToProve === '' ? '' : `; not yet proven: ${leftToProve}`;
	return `${verdictWord(verdict)}${left}${cut === '' ? '' : `. ${cut}`}`;
}

function findingLines(word: string, findings: readonly ComparedFinding[], columns: number): string[] {
	return findings.flatMap(finding => {
		const text = `${findingName(finding)} (${statusText(finding.status)}): ${finding.summary}`;
		return wrapText(text, columns, `${word.padEnd(11)}`);
	});
}

/** What B had stays beside what A had. */
function tableLines({heading, rows}: Table, width: number): string[] {
	const cells = [heading, ...rows].map(row => row.map(cell => escapeText(cell)));
	return foldTable(cells, {width, paired: heading.flatMap((head, place) => (head === 'B' ? [place] : []))});
}
