import {cutText} from '../session/cut-text.ts';
import {type RunOptions, runSession, type SessionRun} from '../session/run-session.ts';
import type {Session} from '../session/session.ts';
import type {Sheet} from '../sheet/sheet.ts';
import type {Source} from '../stream/source.ts';
import type {BringUp} from './bring-up.ts';
import {type BringUpResult, bringUpResult} from './bring-up-result.ts';
import {Routine, type RoutineOptions} from './routine.ts';

export type RunBringUpOptions = Pick<RunOptions, 'session' | 'signal' | 'progress'> &
	RoutineOptions & {
		readonly sheet?: Sheet | undefined;
		/** Called ten times a second of stream time, once there is a layout. */
		readonly watch?: (bringUp: BringUp, session: Session) => void;
	};

export type BringUpRun = SessionRun & {
	/** undefined where no frame came. */
	readonly bringUp: BringUp | undefined;
	readonly result: BringUpResult | undefined;
};

/** Runs the guided routine over a source: live with prompts, or on a recording of somebody doing it. */
export async function runBringUp(source: Source, options: RunBringUpOptions): Promise<BringUpRun> {
	const {sheet, isPrompted, watch, session, signal, progress} = options;
	const routine = new Routine(options);
	const run = await runSession(source, {
		split: false,
		session,
		signal,
		progress,
		watch: running => {
			routine.follow(running);
			if (routine.bringUp !== undefined) watch?.(routine.bringUp, running);
		},
	});
	return finishBringUp(run, routine, sheet, isPrompted, options.rulerMm);
}

/** Settles a routine whose session is over. */
export function finishBringUp(
	run: SessionRun,
	{bringUp}: Routine,
	sheet: Sheet | undefined,
	isPrompted: boolean,
	rulerMm?: number,
): BringUpRun {
	bringUp?.end();
	const result =
		bringUp &&
		bringUpResult(
			bringUp.features,
			bringUp.steps,
			bringUp.records,
			run.snapshot.findings,
			sheet,
			isPrompted,
			cutText(run.snapshot.events, run.info.name),
			rulerMm,
		);
	return {...run, bringUp, result};
}
