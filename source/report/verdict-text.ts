import type {Status} from '../faults/fault-code.ts';
import type {Finding, Snapshot} from '../session/snapshot.ts';
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

/** Findings by how much they matter: worst category first, surest first within it. */
export function worstFirst(findings: readonly Finding[]): Finding[] {
	const rank = (finding: Finding) => statusWords.findIndex(([status]) => status === finding.status);
	return [...findings].sort((a, b) => rank(a) - rank(b) || b.confidence - a.confidence || a.flaggedAt - b.flaggedAt);
}

/** `2 failures, 1 out of spec`; empty without findings. */
export function findingCounts(findings: readonly Finding[]): string {
	return statusWords
		.map(([status, one, many]) => {
			const count = findings.filter(finding => finding.status === status).length;
			return count === 0 ? '' : countText(count, one, many);
		})
		.filter(Boolean)
		.join(', ');
}

/** The verdict in one word. */
export function verdictWord(verdict: Snapshot['verdict']): string {
	return {pass: 'PASS', attention: 'ATTENTION', fail: 'FAIL'}[verdict];
}

/** Fingers, stick axes and buttons that have not been proven, in the order of the frame. */
export function unproven(snapshot: Snapshot): string[] {
	return snapshot.channels
		.filter(({role, proven}) => !proven && (role === 'finger' || role === 'stick' || role === 'button'))
		.map(({name}) => name);
}

/** What the verdict rests on, in a sentence; says plainly when there was nothing to judge. */
export function verdictSentence(snapshot: Snapshot): string {
	if (snapshot.link.frames === 0 && snapshot.findings.length === 0) return 'No frame was seen: nothing can be said.';
	const counts = findingCounts(snapshot.findings);
	if (counts) return `${counts}.`;
	const waiting = unproven(snapshot);
	return waiting.length === 0 ? 'Nothing is wrong, and every channel is proven.' : 'Nothing is wrong in what was seen.';
}
