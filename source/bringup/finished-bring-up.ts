import {CannotError} from '../cannot-error.ts';
import {requireFrames} from '../report/require-frames.ts';
import {escapeText} from '../text/escape-text.ts';
import type {BringUpResult} from './bring-up-result.ts';
import type {BringUpRun} from './run-bring-up.ts';

/** A run that had frames in it. */
export type FinishedBringUp = BringUpRun & {
	readonly bringUp: NonNullable<BringUpRun['bringUp']>;
	readonly result: BringUpResult;
};

/** The run, where there is something to tell of it. Throws `CannotError` where no frame came. */
export function requireResult(run: BringUpRun): FinishedBringUp {
	const {result, bringUp, info} = run;
	requireFrames(run);
	if (result === undefined || bringUp === undefined || run.snapshot.link.frames === 0) {
		const name = escapeText(info.name, 200);
		throw new CannotError(
			`${name} had no frame in it: there is nothing to bring up. glovebench check ${name} tells what arrives.`,
		);
	}

	return {...run, result, bringUp};
}
