import {titleOf} from '../faults/plain-name.ts';
import {isFirst, verdictSentence, verdictWord} from '../report/verdict-text.ts';
import type {Snapshot} from '../session/snapshot.ts';
import {subject} from './finding-rows.ts';

/**
 * What is left on the terminal when the dashboard is over: the verdict with what is still to be proven, and what to do
 * first. `name` tells gloves apart where there are two, null where there is one. Texts are not escaped yet.
 */
export function partingLines(snapshot: Snapshot, name: string | null): string[] {
	const who = name === null ? '' : `${name}: `;
	const first = snapshot.findings.find(isFirst);
	return [
		`${who}${verdictWord(snapshot.verdict)}: ${verdictSentence(snapshot)}`,
		...snapshot.notes.map(note => `${note}.`),
		...(first === undefined
			? []
			: [`Do first: ${subject(first)}: ${titleOf(first.code)}. ${first.advice[0] ?? first.summary}`]),
	];
}
