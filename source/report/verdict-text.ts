import type {Status} from '../faults/fault-code.ts';
import {statusRank} from '../faults/status-meanings.ts';
import {leftToProveText} from '../session/left-to-prove.ts';
import type {Finding, Snapshot, Verdict} from '../session/snapshot.ts';
import {weighs} from '../session/verdict.ts';
import {countText} from './figures-text.ts';

/** The four categories, worst first, with the word to show for each: one, several. */
const statusWords: readonly (readonly [Status, string, string])[] = [
	['failure', 'failure', 'failures'],
	['out-of-spec', 'out of spec', 'out of spec'],
	['maintenance', 'maintenance', 'maintenance'],
	['function-check', 'function check', 'function checks'],
];

/** `failure`, `out of spec`, `maintenance`, `function check`. */
export function statusText(status: Status): string {
	return statusWords.find(([name]) => name === status)?.[1] ?? status;
}

/**
 * Findings in the order in which to care for them: what to do first, then what weighs in the verdict, then what is over;
 * within each the gravest category first, and the surest first within that.
 */
export function mostPressingFirst(findings: readonly Finding[]): Finding[] {
	return [...findings].sort(
		(a, b) =>
			Number(isFirst(b)) - Number(isFirst(a)) ||
			Number(weighs(b)) - Number(weighs(a)) ||
			statusRank(a.status) - statusRank(b.status) ||
			b.confidence - a.confidence ||
			a.flaggedAt - b.flaggedAt,
	);
}

/** Whether a finding is the one to begin with: of findings that are all over nothing is to be done any more. */
export function isFirst(finding: Finding): boolean {
	return finding.first && weighs(finding);
}

/** `2 failures, 1 out of spec`; empty without findings. */
function findingCounts(findings: readonly Finding[]): string {
	return statusWords
		.map(([status, one, many]) => {
			const count = findings.filter(finding => finding.status === status).length;
			return count === 0 ? '' : countText(count, one, many);
		})
		.filter(Boolean)
		.join(', ');
}

/** The verdict in one word. */
export function verdictWord(verdict: Verdict): string {
	return {pass: 'PASS', unproven: 'UNPROVEN', attention: 'ATTENTION', fail: 'FAIL'}[verdict];
}

/** What the verdict rests on, in a sentence or two; says plainly when there was nothing to judge. */
export function verdictSentence({link, findings, channels}: Snapshot): string {
	if (link.frames === 0 && findings.length === 0) return 'No frame was seen: nothing can be said.';
	const over = findings.filter(finding => !weighs(finding));
	const mended = over.filter(finding => finding.mended).length;
	const passed = [
		...(mended > 0 ? [`${mended} mended`] : []),
		...(over.length > mended ? [`${over.length - mended} over`] : []),
	].join(', ');
	const counts = findingCounts(findings.filter(weighs));
	if (counts) return `${counts}${passed && `; ${passed}`}.`;
	const left = leftToProveText(channels);
	const mind = passed === '' ? '' : ` any more (${passed})`;
	return left === ''
		? `Nothing is wrong${mind}, and every channel is proven.`
		: `Nothing is wrong${mind} in what was seen; not yet proven: ${left}.`;
}
