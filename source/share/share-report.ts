import {findingName} from '../faults/plain-name.ts';
import type {Finding} from '../session/snapshot.ts';
import {bytesText, measureText, wholeText} from '../text/number-text.ts';
import type {Choice} from './choose-span.ts';
import type {Span} from './cut-items.ts';
import {mostKinds} from './received-text.ts';

/** Everything there is to say about a copy that was made. */
type ShareReport = {
	readonly output: string;
	readonly choice: Choice;
	/** Seconds at which the original ends. */
	readonly endsAt: number;
	/** The span a person asked for, which findings are looked for in. */
	readonly asked: Span | undefined;
	readonly removed: readonly string[];
	/** Findings of the original that belong to the span. */
	readonly expected: readonly Finding[];
	/** Findings of the original in all. */
	readonly foundBefore: number;
	/** What the copy gave when it was read back. */
	readonly foundAfter: readonly Finding[];
	/** What the device said in words; it stays. */
	readonly texts: readonly string[];
	/** True: all of it is listed. */
	readonly isListed?: boolean;
	readonly bytesBefore: number;
	readonly bytesAfter: number;
};

const shownTexts = 5;

const seconds = (t: number) => measureText(t, 1, 's');

/** The report, a line each, without line ends. Names of channels and texts must be escaped by now. */
export function shareReportLines(report: ShareReport): string[] {
	const {choice, endsAt, asked, removed, texts, bytesBefore, bytesAfter} = report;
	const {span} = choice;
	const isWhole = span.from === 0 && span.to >= endsAt;
	const lines = [
		isWhole
			? `Wrote ${report.output}: all ${seconds(endsAt)}.`
			: `Wrote ${report.output}: ${seconds(span.from)} to ${seconds(span.to)} of ${seconds(endsAt)}; its times begin at 0.`,
	];
	// Less than a second is only the grid on which a copy begins.
	if (asked && asked.from - span.from >= 1) {
		lines.push(`It begins ${seconds(asked.from - span.from)} before --from: the findings need what comes before them.`);
	}

	lines.push('Removed:', ...removed.map(line => `  ${line}`));
	lines.push(`Size: ${bytesText(bytesBefore)} before, ${wholeText(bytesAfter)} in the copy.`);
	lines.push(...findingLines(report));
	lines.push('What the glove sent stays as it came. Read it before you send the copy.');
	if (texts.length > 0) {
		const shown = report.isListed === true ? texts : texts.slice(0, shownTexts);
		lines.push('Text in it:', ...shown.map(text => `  ${text}`));
		const more = texts.length - shown.length;
		if (more > 0) lines.push(`  and ${more} more ${more === 1 ? 'kind' : 'kinds'}: --list shows all`);
	}

	if (texts.length >= mostKinds) lines.push('  There may be more kinds: no further ones were looked for.');
	return lines;
}

function findingLines({choice, expected, foundBefore, foundAfter, asked}: ShareReport): string[] {
	const {span} = choice;
	const where = asked ? ' in that span' : '';
	const before =
		asked && foundBefore !== expected.length ? `${expected.length} of ${foundBefore}` : `${expected.length}`;
	const lines = [`Findings: ${before} before${where}, ${foundAfter.length} in the copy.`];
	for (const finding of expected) {
		const kept = foundAfter.find(({code, channel}) => code === finding.code && channel === finding.channel);
		lines.push(
			kept
				? `  ${findingName(finding)}: at ${seconds(finding.flaggedAt)}, in the copy at ${seconds(kept.flaggedAt)}`
				: `  ${findingName(finding)}: at ${seconds(finding.flaggedAt)}, NOT in the copy; ${remedyFor(finding, span)}`,
		);
	}

	for (const finding of foundAfter) {
		if (expected.some(({code, channel}) => code === finding.code && channel === finding.channel)) continue;
		const isNew = choice.extra.some(({code, channel}) => code === finding.code && channel === finding.channel);
		lines.push(
			isNew
				? `  ${findingName(finding)}: only in the copy, at ${seconds(finding.flaggedAt)}; the whole recording speaks against it: give more with --from and --to, or --all`
				: `  ${findingName(finding)}: in the copy at ${seconds(finding.flaggedAt)}, from the lead-in`,
		);
	}

	return lines;
}

function remedyFor(finding: Finding, span: Span): string {
	return finding.flaggedAt > span.to
		? 'what proves it comes later: give a later --to, or --all'
		: 'what proves it comes earlier: give an earlier --from, or --all';
}
