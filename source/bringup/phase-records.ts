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
 * pull was left for is unanswered, and lasts from `from` to `to`, stream seconds.
 */
export function phaseRecords(
	steps: readonly FingerStep[],
	phase: Phase,
	known: KnownSoFar,
	from: number,
	to: number,
): StepRecord[] {
	const own = steps.map(({kind, channel}) => known.expectedOn(kind, channel));
	const answers = phase.align(own, column => known.mayAnswer(column));
	return steps.map(({id}, i) => {
		const pulls = answers[i];
		return {
			id,
			outcome: pulls.length > 0 ? 'done' : 'unanswered',
			from: pulls[0]?.from ?? from,
			to: pulls[pulls.length - 1]?.to ?? to,
			column: pulls[0]?.column ?? null,
			pulls: pulls.map(keptPull),
		};
	});
}
