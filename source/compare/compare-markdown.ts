import {findingName} from '../faults/plain-name.ts';
import {publicName} from '../report/public-name.ts';
import {statusText} from '../report/verdict-text.ts';
import {codeText, literal} from '../text/markdown-text.ts';
import {figureText, secondsText} from '../text/number-text.ts';
import type {ComparedFinding} from './compare-findings.ts';
import {sideVerdict} from './compare-text.ts';
import type {Comparison, Side} from './comparison.ts';
import {channelTable, linkTable, type Table} from './comparison-rows.ts';

/** The comparison as Markdown for a chat, a forum or a repair log. */
export function compareMarkdown(comparison: Comparison): string {
	const {a, b, findings, changes, verdict} = comparison;
	const lines = [
		`**${verdict.word.toUpperCase()}**: ${literal(verdict.sentence)}`,
		'',
		sideItem('A', a),
		sideItem('B', b),
		'',
		...findingItems('Gone', findings.gone),
		...findingItems('New', findings.appeared),
		...findingItems('Remaining', findings.remaining),
		...findingItems('Not tested', findings.untested),
		...(changes.length > 0 ? [...changes.map(text => `- ${literal(text)}`), ''] : []),
		...tableLines(channelTable(comparison)),
		'',
		'Percent of full scale; noise is rms at rest.',
		'',
		...tableLines(linkTable(comparison)),
	];
	return `${lines.join('\n')}\n`;
}

function sideItem(letter: string, side: Side): string {
	const name = codeText(publicName(side.name));
	const notJudged = side.notJudged === '' ? '' : `. ${literal(side.notJudged)}`;
	return `- ${letter}: \`${name}\`, ${secondsText(side.seconds)}, ${figureText(side.frames)} frames, ${literal(sideVerdict(side))}${notJudged}`;
}

function findingItems(word: string, findings: readonly ComparedFinding[]): string[] {
	if (findings.length === 0) return [];
	return [
		`${word}:`,
		...findings.map(
			each => `- **${literal(findingName(each))}** (${statusText(each.status)}): ${literal(each.summary)}`,
		),
		'',
	];
}

function tableLines({heading, rows}: Table): string[] {
	const line = (cells: readonly string[]) => `| ${cells.map(literal).join(' | ')} |`;
	return [line(heading), `|${heading.map((_, i) => (i === 0 ? '---' : '--:')).join('|')}|`, ...rows.map(line)];
}
