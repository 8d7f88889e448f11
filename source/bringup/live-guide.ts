import type {Session} from '../session/session.ts';
import {answerText} from './answer-text.ts';
import type {BringUp} from './bring-up.ts';
import type {Guide, GuideView} from './guide.ts';
import {Routine, type RoutineOptions} from './routine.ts';
import {promptOf, type Step} from './steps.ts';

/** Leads the bench page of a live glove through the routine. */
export class LiveGuide implements Guide {
	readonly routine: Routine;

	constructor(options: Omit<RoutineOptions, 'isPrompted'>) {
		this.routine = new Routine({...options, isPrompted: true});
	}

	follow(session: Session): void {
		this.routine.follow(session);
	}

	skip(): void {
		this.routine.bringUp?.skip();
	}

	again(): void {
		this.routine.bringUp?.repeat();
	}

	take(): void {
		this.routine.bringUp?.take();
	}

	get view(): GuideView | null {
		const {bringUp} = this.routine;
		return bringUp === undefined || bringUp.features.history.count === 0 ? null : viewOf(bringUp);
	}
}

function viewOf(bringUp: BringUp): GuideView {
	const {features, records, steps, step, wrong} = bringUp;
	const {channels} = features.layout;
	const last = records[records.length - 1];
	const answers = channels.flatMap(({name}): [string, string][] => {
		const record = ['finger ', 'reel ', ''].map(kind => records.find(({id}) => id === kind + name)).find(Boolean);
		if (record === undefined) return [];
		const on = record.column === null ? name : channels[record.column]?.name;
		return record.outcome === 'skipped' ? [[name, 'skipped']] : on === name ? [] : [[name, `on ${on}`]];
	});
	return {
		step: records.length + 1,
		steps: steps.length,
		prompt: step === undefined ? 'All steps are done.' : promptOf(step),
		asked: step === undefined ? 'done' : wordOf(step),
		count: bringUp.count,
		need: bringUp.need,
		marks: bringUp.marks,
		hint: bringUp.hint,
		moved: wrong?.name ?? null,
		mayTake: wrong?.mayBeCrossed ?? false,
		last: last ? `Before: ${answerText(last, channels, features.scale.fullScale)}` : null,
		isOver: bringUp.isOver,
		answers: new Map(answers),
	};
}

/** What is asked for, in a word that can be read from a metre. */
function wordOf(step: Step): string {
	if ('channel' in step) return step.channel;
	if (step.kind === 'stick-side') return {right: 'right', down: 'near', left: 'left', up: 'far'}[step.side];
	return {rest: 'rest', hand: 'fist', 'stick-around': 'stick'}[step.kind];
}
