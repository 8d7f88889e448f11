import {figureText, secondsText} from '../report/figures-text.ts';
import {statusText, verdictWord} from '../report/verdict-text.ts';
import {escapeText} from '../text/escape-text.ts';
import {wrapText} from '../text/wrap-text.ts';
import type {ComparedFinding} from './compare-findings.ts';
import type {Comparison, Side} from './comparison.ts';
import {channelTable, linkTable, type Table} from './comparison-rows.ts';
import {findingName} from './judge.ts';

const widthColumns = 80;

/** The comparison for a terminal, at most 80 columns wide, ending with a line end. */
export function compareText(comparison: Comparison): string {
	const {a, b, findings, changes, verdict} = comparison;
	const groups = [
		findingLines('gone', findings.gone),
		findingLines('new', findings.appeared),
		findingLines('remaining', findings.remaining),
		findingLines('not tested', findings.untested),
	].flat();
	const lines = [
		...wrapText(`${verdict.word.toUpperCase()}: ${verdict.sentence}`, widthColumns),
		...sideLines('A', a),
		...sideLines('B', b),
		...(groups.length > 0 ? ['', 'Findings', ...groups] : []),
		...(changes.length > 0 ? ['', 'Changes', ...changes.flatMap(text => wrapText(text, widthColumns, '- '))] : []),
		'',
		'Channels (percent of full scale; noise is rms at rest)',
		...tableLines(channelTable(comparison)),
		'',
		...tableLines(linkTable(comparison)),
	];
	return `${lines.map(line => escapeText(line)).join('\n')}\n`;
}

function sideLines(letter: string, side: Side): string[] {
	return wrapText(
		`${side.name}: ${secondsText(side.seconds)}, ${figureText(side.frames)} frames, ${sideVerdict(side)}`,
		widthColumns,
		`${letter}  `,
	);
}

/** `FAIL`, `UNPROVEN; not yet proven: ring (move it)`. */
export function sideVerdict({verdict, leftToProve}: Side): string {
	return `${verdictWord(verdict)}${leftToProve === '' ? '' : `; not yet proven: ${leftToProve}`}`;
}

function findingLines(word: string, findings: readonly ComparedFinding[]): string[] {
	return findings.flatMap(finding => {
		const text = `${findingName(finding)} (${statusText(finding.status)}): ${finding.summary}`;
		return wrapText(text, widthColumns, `${word.padEnd(11)}`);
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
