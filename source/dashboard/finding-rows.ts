import {escapeText} from '../escape-text.ts';
import type {Finding, Snapshot} from '../session/snapshot.ts';
import {statusLetters} from './channel-rows.ts';
import {fitLeft, shorten, wrapText} from './fit-text.ts';
import {formatEvidence, formatPercent, formatTime} from './format-number.ts';
import type {Glyphs} from './look.ts';
import type {Row} from './rows.ts';

/** Names one finding of a session. */
export function findingKey(finding: Pick<Finding, 'code' | 'channel'>): string {
	return `${finding.code}/${finding.channel ?? ''}`;
}

/** Open findings, newest first, then the closed ones, newest first. */
export function listedFindings(snapshot: Snapshot): readonly Finding[] {
	const newestFirst = (a: Finding, b: Finding) => b.flaggedAt - a.flaggedAt;
	return [
		...snapshot.findings.filter(finding => finding.to === null).sort(newestFirst),
		...snapshot.findings.filter(finding => finding.to !== null).sort(newestFirst),
	];
}

/** `ring`, or what a finding is about that is on no channel. */
export function subject(finding: Pick<Finding, 'channel'>): string {
	return finding.channel ?? 'link/all';
}

/** `since 0:12` while it lasts, `0:12–0:40` when it is over. */
export function findingTime(finding: Finding, glyphs: Glyphs): string {
	return finding.to === null
		? `since ${formatTime(finding.from)}`
		: `${formatTime(finding.from)}${glyphs.dash}${formatTime(finding.to)}`;
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
	const head: Row = [
		{
			text: findings.length === 0 ? ' findings: none' : ` findings: ${open} open, ${findings.length - open} over`,
			tone: 'quiet',
		},
	];
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
		if (finding.to === null && left >= 2 && (index === 0 || left - 2 >= waiting - 1)) {
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
	readonly definition: string;
	readonly causes: readonly string[];
	readonly checks: readonly {readonly measure: string; readonly expect: string}[];
	readonly remedy: readonly string[];
	readonly caution?: string;
};

/** A finding in full: measurement, evidence, next step, causes in order, what to measure, remedy, caution. */
export function findingDetail(
	finding: Finding,
	entry: CatalogueEntry | undefined,
	width: number,
	glyphs: Glyphs,
): Row[] {
	const rows: Row[] = [];
	const say = (text: string, indent: string, first: string, tone?: 'strong' | 'quiet') => {
		for (const [index, line] of wrapText(escapeText(text), width - indent.length).entries()) {
			rows.push([{text: (index === 0 ? first : indent) + line, ...(tone && {tone})}]);
		}
	};
	const title = (text: string) => rows.push([{text: ` ${text}`, tone: 'quiet'}]);

	const head = `${subject(finding)}: ${finding.code}${entry ? `, ${entry.title}` : ''}`;
	rows.push([{text: ` ${head}`, tone: finding.status}]);
	rows.push([
		{
			text: ` ${finding.status}, ${findingTime(finding, glyphs)}, flagged at ${formatTime(finding.flaggedAt, 1)}, sure ${formatPercent(finding.confidence)}`,
		},
	]);
	if (finding.spans.length > 1) {
		const spans = finding.spans
			.slice(-4)
			.map(([from, to]) => `${formatTime(from)}${glyphs.dash}${to === null ? '' : formatTime(to)}`);
		say(`seen ${finding.spans.length} times, lately ${spans.join(', ')}`, ' ', ' ');
	}

	say(finding.summary, ' ', ' ', 'strong');
	const evidence = Object.entries(finding.evidence).map(([name, value]) => `${name} ${formatEvidence(value)}`);
	if (evidence.length > 0) say(evidence.join(`  ${glyphs.dot}  `), ' ', ' ');
	if (finding.advice.length > 0) {
		title('next');
		finding.advice.forEach((text, index) => {
			say(text, '    ', ` ${index + 1}. `, index === 0 ? 'strong' : undefined);
		});
	}

	if (entry) {
		if (entry.caution) {
			title('caution');
			say(entry.caution, ' ! ', ' ! ', 'strong');
		}

		title('likely causes, in order');
		for (const cause of entry.causes) say(cause, '   ', ` ${glyphs.dash} `);
		title('measure');
		for (const check of entry.checks) say(`${check.measure} Sound: ${check.expect}`, '   ', ` ${glyphs.dash} `);
		title('remedy');
		for (const step of entry.remedy) say(step, '   ', ` ${glyphs.dash} `);
	}

	return rows;
}
