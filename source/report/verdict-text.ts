import {causeRank} from '../faults/causes.ts';
import type {Status} from '../faults/fault-code.ts';
import {statusRank} from '../faults/status-meanings.ts';
import {leftToProveText} from '../session/left-to-prove.ts';
import type {ChannelView, Finding, Snapshot, Verdict} from '../session/snapshot.ts';
import {weighs} from '../session/verdict.ts';
import {countText} from '../text/number-text.ts';

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
 * Findings in the order in which to care for them: the `first` one, then what is open, then what is over and weighs, then
 * what is mended or over for good; within each as `first` is chosen (check-values D4): causes before what may follow from them,
 * the gravest category, the earliest, the order of `channels`.
 */
export function mostPressingFirst(
	findings: readonly Finding[],
	channels: readonly Pick<ChannelView, 'name'>[] = [],
): Finding[] {
	const place = new Map(channels.map(({name}, index) => [name, index]));
	const placeOf = ({channel}: Finding) => (channel === null ? -1 : (place.get(channel) ?? channels.length));
	return [...findings].sort(
		(a, b) =>
			Number(b.first) - Number(a.first) ||
			Number(b.to === null) - Number(a.to === null) ||
			Number(weighs(b)) - Number(weighs(a)) ||
			causeRank(a.code) - causeRank(b.code) ||
			statusRank(a.status) - statusRank(b.status) ||
			a.from - b.from ||
			placeOf(a) - placeOf(b),
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
