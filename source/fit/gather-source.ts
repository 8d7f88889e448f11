import {CannotError} from '../cannot-error.ts';
import {plainName} from '../faults/plain-name.ts';
import {requireFrames} from '../report/require-frames.ts';
import {type RunOptions, runSession, type SessionRun} from '../session/run-session.ts';
import type {Source} from '../stream/source.ts';
import {escapeText} from '../text/escape-text.ts';
import type {GatheredLayout} from './gather.ts';
import {GatherWatch} from './gather-watch.ts';

/** A finished session and what was gathered of its frames. */
export type GatheredRun = SessionRun & {readonly gathered: GatheredLayout};

/**
 * Runs a session over a source and gathers what settings and comparisons are computed from. Throws `CannotError`
 * where the source cannot be read or had no frame in it.
 */
export async function gatherSource(source: Source, options: RunOptions): Promise<GatheredRun> {
	const watch = new GatherWatch(options.part);
	const run = await runSession(source, {...options, watch: session => watch.follow(session)});
	requireFrames(run);
	const gathered = watch.gatherer.main;
	if (gathered === undefined || run.snapshot.link.frames === 0) {
		const [{code}] = run.snapshot.findings;
		throw new CannotError(
			`${escapeText(run.info.name)} had no frame in it, and ${plainName(code)} was found: glovebench explain ${code} tells what to measure.`,
		);
	}

	return {...run, gathered};
}
