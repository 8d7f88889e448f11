import {figureText, secondsText} from '../report/figures-text.ts';
import {statusText, verdictWord} from '../report/verdict-text.ts';
import {escapeText} from '../text/escape-text.ts';
import {wrapText} from '../text/wrap-text.ts';
import type {ComparedFinding} from './compare-findings.ts';
import type {Comparison, Side} from './comparison.ts';
import {channelTable, linkTable, type Table} from './comparison-rows.ts';
import {findingName} from './judge.ts';

/** The comparison for a terminal, its prose at most `columns` wide, ending with a line end. */
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
		'Channels (percent of full scale; noise is rms at rest)',
		...tableLines(channelTable(comparison)),
		'',
		...tableLines(linkTable(comparison)),
	];
	return `${lines.map(line => escapeText(line)).join('\n')}\n`;
}

function sideLines(letter: string, side: Side, columns: number): string[] {
	return wrapText(
		`${side.name}: ${secondsText(side.seconds)}, ${figureText(side.frames)} frames, ${sideVerdict(side)}`,
		columns,
		`${letter}  `,
	);
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

/** Columns under each other: the first at the left, numbers at the right. */
function tableLines({heading, rows}: Table): string[] {
	const all = [heading, ...rows];
	const widths = heading.map((_, column) => Math.max(...all.map(row => row[column].length)));
	return all.map(row =>
		row
			.map((cell, column) => (column === 0 ? cell.padEnd(widths[0]) : cell.padStart(widths[column])))
			.join('  ')
			.trimEnd(),
	);
}
