import type {KnownSoFar} from './known-so-far.ts';
import type {Phase} from './phase.ts';
import {keptPull} from './step-answers.ts';
import type {StepRecord} from './step-record.ts';
import type {Step} from './steps.ts';

/** A step that asks for one finger. */
export type FingerStep = Extract<Step, {channel: string}> & {readonly kind: 'reel' | 'finger'};

export function isFingerStep(step: Step): step is FingerStep {
	return step.kind === 'reel' || step.kind === 'finger';
}

/**
 * The records of all reels, or of all fingers by themselves, with their pulls told apart by order alone. A step that no
 * pull was left for is unanswered, and stands where the one before ended. `from` is where the first one began, stream
 * seconds.
 */
export function phaseRecords(
	steps: readonly FingerStep[],
	phase: Phase,
	known: KnownSoFar,
	from: number,
): StepRecord[] {
	const own = steps.map(({kind, channel}) => known.expectedOn(kind, channel));
	const answers = phase.align(own, column => known.mayAnswer(column));
	let until = from;
	return steps.map(({id}, i): StepRecord => {
		const pulls = answers[i] ?? [];
		const [first, last] = [pulls[0], pulls.at(-1)];
		if (first === undefined || last === undefined)
			return {id, outcome: 'unanswered', from: until, to: until, column: null, pulls: []};
		until = last.to;
		return {id, outcome: 'done', from: first.from, to: until, column: first.column, pulls: pulls.map(keptPull)};
	});
}
