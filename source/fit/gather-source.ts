import {CannotError} from '../cannot-error.ts';
import {type RunOptions, runSession, type SessionRun} from '../report/run-session.ts';
import type {Source} from '../sources/source.ts';
import {FrameFeed} from './frame-feed.ts';
import {type GatheredLayout, Gatherer} from './gather.ts';

/** A finished session and what was gathered of its frames. */
export type GatheredRun = SessionRun & {readonly gathered: GatheredLayout};

/**
 * Runs a session over a source and gathers what settings and comparisons are computed from. Throws `CannotError`
 * where the source cannot be read or had no frame in it.
 */
export async function gatherSource(source: Source, options: RunOptions): Promise<GatheredRun> {
	const gatherer = new Gatherer();
	const feed = new FrameFeed(gatherer);
	const run = await runSession(source, {...options, watch: session => feed.drain(session)});
	const gathered = gatherer.main;
	if (gathered === undefined) {
		const {bytes} = run.snapshot.link;
		throw new CannotError(
			bytes === 0
				? `${run.info.name} had nothing in it: no byte came. Check the cable and that the board is sending.`
				: `${run.info.name} had no frame in it (${bytes} bytes came). glovebench check ${run.info.name} tells what is wrong.`,
		);
	}

	return {...run, gathered};
}
