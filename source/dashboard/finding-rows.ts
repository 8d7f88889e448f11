import {isFirst} from '../report/verdict-text.ts';
import type {Glyphs} from '../screen/look.ts';
import type {Row} from '../screen/rows.ts';
import type {Finding, Snapshot} from '../session/snapshot.ts';
import {escapeText} from '../text/escape-text.ts';
import {fitLeft, shorten, wrapText} from '../text/fit-text.ts';
import {textWidth} from '../text/text-width.ts';
import {statusLetters} from './channel-rows.ts';
import {formatEvidence, formatPercent, formatTime} from './format-number.ts';

/** Names one finding of a session. */
export function findingKey(finding: Pick<Finding, 'code' | 'channel'>): string {
	return `${finding.code}/${finding.channel ?? ''}`;
}

/** What to do first, then the open findings, newest first, then the closed ones, newest first. */
export function listedFindings(snapshot: Snapshot): readonly Finding[] {
	const newestFirst = (a: Finding, b: Finding) => b.flaggedAt - a.flaggedAt;
	const others = snapshot.findings.filter(finding => !isFirst(finding));
	return [
		...snapshot.findings.filter(isFirst),
		...others.filter(finding => finding.to === null).sort(newestFirst),
		...others.filter(finding => finding.to !== null).sort(newestFirst),
	];
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
		{text: ` ${open ? statusLetters[finding.status] : glyphs.done} `, tone: open ? finding.status : 'quiet'},
		{text: name, tone: selected ? 'chosen' : open ? 'strong' : 'quiet'},
		{text: ` ${fitLeft(finding.code, codeWidth, glyphs.ellipsis)}`, tone: open ? 'plain' : 'quiet'},
		{text: time, tone: 'quiet'},
	];
}

/** The next thing to measure, under its finding. */
export function adviceRow(finding: Finding, width: number, glyphs: Glyphs): Row {
	const advice = finding.advice[0] ?? finding.summary;
	return [{text: `   ${glyphs.next} ${shorten(escapeText(advice), width - 4 - glyphs.next.length, glyphs.ellipsis)}`}];
}

/** The findings of a panel `height` rows high: each with its next step where that fits, else lines only. */
export function findingPanel(snapshot: Snapshot, width: number, height: number, glyphs: Glyphs): Row[] {
	const findings = listedFindings(snapshot);
	const open = findings.filter(finding => finding.to === null).length;
	const counts = `${open} open, ${findings.length - open} over`;
	const head: Row =
		findings.length > 0 && isFirst(findings[0])
			? [
					{text: ' DO FIRST', tone: 'strong'},
					{text: `   findings: ${counts}`, tone: 'quiet'},
				]
			: [{text: findings.length === 0 ? ' findings: none' : ` findings: ${counts}`, tone: 'quiet'}];
	const rows: Row[] = [head];
	// Whoever mends one thing needs the next step for that; the rest can wait, but has to be seen.
	for (const [index, finding] of findings.entries()) {
		const left = height - rows.length;
		const waiting = findings.length - index;
		if (left <= 0) break;
		if (left === 1 && waiting > 1) {
			rows.push([{text: ` ${glyphs.ellipsis} ${waiting} more: f`, tone: 'quiet'}]);
			break;
		}

		rows.push(findingRow(finding, width, glyphs));
		if ((finding.to === null || isFirst(finding)) && left >= 2 && (index === 0 || left - 2 >= waiting - 1)) {
			rows.push(adviceRow(finding, width, glyphs));
		}
	}

	return rows;
}

/** A finding's measurement and next step in at most five rows, for under the list. */
export function findingPreview(finding: Finding, width: number, glyphs: Glyphs): Row[] {
	const lines = wrapText(escapeText(finding.summary), width - 2).slice(0, 2);
	const next = wrapText(escapeText(finding.advice[0] ?? ''), width - 4).slice(0, 2);
	return [
		[{text: glyphs.rule.repeat(width), tone: 'quiet'}],
		...lines.map((line): Row => [{text: ` ${line}`, tone: 'strong'}]),
		...next.map(
			(line, index): Row => [{text: ` ${index === 0 ? glyphs.next : ' '.repeat(glyphs.next.length)} ${line}`}],
		),
	];
}

/** What a finding's page says besides its chart. The catalogue's part is there once the code is known to it. */
export type CatalogueEntry = {
	readonly title: string;
	readonly causes: readonly string[];
	readonly remedy: readonly string[];
};

/** A finding's text, in two parts: what was measured and the very next step; and everything else there is to say. */
export type FindingText = {readonly first: readonly Row[]; readonly rest: readonly Row[]};

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
