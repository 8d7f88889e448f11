import {isFirst, mostPressingFirst} from '../report/verdict-text.ts';
import type {Glyphs} from '../screen/look.ts';
import type {Row} from '../screen/rows.ts';
import type {Finding, Snapshot} from '../session/snapshot.ts';
import {escapeText} from '../text/escape-text.ts';
import {fitLeft, wrapText} from '../text/fit-text.ts';
import {textWidth} from '../text/text-width.ts';
import {statusLetters} from './channel-rows.ts';
import {formatEvidence, formatPercent, formatTime} from './format-number.ts';

/** Names one finding of a session. */
export function findingKey(finding: Pick<Finding, 'code' | 'channel'>): string {
	return `${finding.code}/${finding.channel ?? ''}`;
}

/** What to do first, then the open findings, then the closed ones, the gravest first within each. */
export function listedFindings(snapshot: Snapshot): readonly Finding[] {
	const isOver = (finding: Finding) => Number(finding.to !== null);
	return mostPressingFirst(snapshot.findings).sort(
		(a, b) => Number(isFirst(b)) - Number(isFirst(a)) || isOver(a) - isOver(b),
	);
}

/** `ring`, or what a finding is about that is on no channel. */
export function subject(finding: Pick<Finding, 'channel'>): string {
	return finding.channel ?? 'link/all';
}

/** `since 0:12` while it lasts, `0:12–0:40` when it is over, `mended 0:12–0:40` where its channel has been proven since. */
export function findingTime(finding: Finding, glyphs: Glyphs): string {
	return finding.to === null
		? `since ${formatTime(finding.from)}`
		: `${finding.mended ? 'mended ' : ''}${formatTime(finding.from)}${glyphs.dash}${formatTime(finding.to)}`;
}

/** A finding in one line: status letter, channel, code, since when. */
export function findingRow(finding: Finding, width: number, glyphs: Glyphs, selected = false): Row {
	const open = finding.to === null;
	const time = findingTime(finding, glyphs);
	const name = fitLeft(subject(finding), 9, glyphs.ellipsis);
	const codeWidth = Math.max(8, width - 13 - time.length - 1);
	return [
		{text: ` ${open ? statusLetters[finding.status] : glyphs.over} `, tone: open ? finding.status : 'quiet'},
		{text: name, tone: selected ? 'chosen' : open ? 'strong' : 'quiet'},
		{text: ` ${fitLeft(finding.code, codeWidth, glyphs.ellipsis)}`, tone: open ? 'plain' : 'quiet'},
		{text: time, tone: 'quiet'},
	];
}

/** A finding's measurement and its whole advice, for under the list: what it takes, at most `height` rows. */
export function findingPreview(finding: Finding, width: number, height: number, glyphs: Glyphs): Row[] {
	const advice = finding.advice.flatMap((text, index) => {
		const head = index === 0 ? `${glyphs.next} ` : `${index + 1}. `;
		const lines = wrapText(escapeText(text), width - 2 - head.length);
		return lines.map(
			(line, y): Row => [
				{text: ` ${y === 0 ? head : ' '.repeat(head.length)}${line}`, ...(index === 0 && {tone: 'strong' as const})},
			],
		);
	});
	const summary = wrapText(escapeText(finding.summary), width - 2).map((line): Row => [{text: ` ${line}`}]);
	const rule: Row = [{text: glyphs.rule.repeat(width), tone: 'faint'}];
	// The measurement gives way before the advice does.
	return [rule, ...summary.slice(0, Math.max(0, height - 1 - advice.length)), ...advice].slice(0, height);
}

/** What a finding's page says besides its chart. The catalogue's part is there once the code is known to it. */
export type CatalogueEntry = {
	readonly title: string;
	readonly causes: readonly string[];
	readonly remedy: readonly string[];
};

/** A finding's text, in two parts: what was measured and the very next step; and everything else there is to say. */
type FindingText = {readonly first: readonly Row[]; readonly rest: readonly Row[]};

/**
 * A finding in full. First its measurement, evidence and next step, after which its chart belongs; then the other
 * steps, likely causes in order, remedy and caution.
 */
export function findingText(
	finding: Finding,
	entry: CatalogueEntry | undefined,
	width: number,
	glyphs: Glyphs,
): FindingText {
	const first: Row[] = [];
	const rest: Row[] = [];
	const say = (rows: Row[], text: string, head: string, tone?: 'strong') => {
		const indent = ' '.repeat(textWidth(head));
		for (const [index, line] of wrapText(escapeText(text), width - indent.length).entries()) {
			rows.push([{text: (index === 0 ? head : indent) + line, ...(tone && {tone})}]);
		}
	};
	const section = (title: string, texts: readonly string[], head: (index: number) => string) => {
		if (texts.length === 0) return;
		rest.push([{text: ` ${title}`, tone: 'quiet'}]);
		texts.forEach((text, index) => {
			say(rest, text, head(index));
		});
	};
	const bullet = () => ` ${glyphs.dash} `;

	const title = entry ? `, ${entry.title}` : '';
	const mark = isFirst(finding) ? 'DO FIRST ' : '';
	first.push([{text: ` ${mark}${subject(finding)}: ${finding.code}${title}`, tone: finding.status}]);
	say(
		first,
		`${finding.status}, ${findingTime(finding, glyphs)}, flagged at ${formatTime(finding.flaggedAt, 1)}, ${formatPercent(finding.confidence)} sure`,
		' ',
	);
	if (finding.spans.length > 1) {
		const spans = finding.spans
			.slice(-4)
			.map(([from, to]) => `${formatTime(from)}${glyphs.dash}${to === null ? '' : formatTime(to)}`);
		say(first, `seen ${finding.spans.length} times, lately ${spans.join(', ')}`, ' ');
	}

	say(first, finding.summary, ' ', 'strong');
	const evidence = Object.entries(finding.evidence).map(([name, value]) => `${spaced(name)} ${formatEvidence(value)}`);
	if (evidence.length > 0) say(first, evidence.join(', '), ' ');
	const [next, ...then] = finding.advice;
	if (next !== undefined) say(first, next, ` ${glyphs.next} `, 'strong');

	section('then', then, index => ` ${index + 2}. `);
	if (entry) {
		section('likely causes, in order', entry.causes, bullet);
		section('remedy', entry.remedy, bullet);
	}

	section('caution', finding.cautions, () => ' ! ');
	return {first, rest};
}

/** `largestJumpPercentFs` as words. */
function spaced(name: string): string {
	return name.replace(/[A-Z]/g, letter => ` ${letter.toLowerCase()}`).replace(/\bfs\b/, 'FS');
}
