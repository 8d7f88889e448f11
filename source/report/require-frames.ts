import {CannotError} from '../cannot-error.ts';
import type {SessionRun} from '../session/run-session.ts';
import {noFrameText} from './no-frame-text.ts';

/**
 * Throws `CannotError` where nothing in a session looked like a frame and nothing says why: a letter, a picture, a table
 * of words. A report on that would say that nothing is wrong.
 */
export function requireFrames(run: SessionRun): void {
	const {link, findings} = run.snapshot;
	if (link.frames === 0 && findings.length === 0) throw new CannotError(noFrameText(run));
}
