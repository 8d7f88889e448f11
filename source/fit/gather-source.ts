import {CannotError} from '../cannot-error.ts';
import {requireFrames} from '../report/require-frames.ts';
import {type RunOptions, runSession, type SessionRun} from '../session/run-session.ts';
import type {Session} from '../session/session.ts';
import type {Source} from '../stream/source.ts';
import {escapeText} from '../text/escape-text.ts';
import {FrameFeed} from './frame-feed.ts';
import {type GatheredLayout, Gatherer} from './gather.ts';

/** A finished session and what was gathered of its frames. */
export type GatheredRun = SessionRun & {readonly gathered: GatheredLayout};

/**
 * Runs a session over a source and gathers what settings and comparisons are computed from. Throws `CannotError`
 * where the source cannot be read or had no frame in it.
 */
export async function gatherSource(source: Source, options: RunOptions): Promise<GatheredRun> {
	let gatherer = new Gatherer();
	let feed = new FrameFeed(gatherer);
	let current: Session | undefined;
	let part = 0;
	const run = await runSession(source, {
		...options,
		watch: session => {
			if (session !== current) {
				current = session;
				part++;
				// The one that is wanted stays; without a wish the last one does.
				if (options.part === undefined || part <= options.part) {
					gatherer = new Gatherer();
					feed = new FrameFeed(gatherer);
				}
			}

			if (options.part === undefined || part <= options.part) feed.drain(session);
		},
	});
	requireFrames(run);
	const gathered = gatherer.main;
	if (gathered === undefined || run.snapshot.link.frames === 0) {
		const [{code}] = run.snapshot.findings;
		throw new CannotError(
			`${escapeText(run.info.name)} had no frame in it, and ${code} was found: glovebench explain ${code} tells what to measure.`,
		);
	}

	return {...run, gathered};
}
