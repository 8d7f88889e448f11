import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {openNamedSource} from '../command-line/source-options.ts';
import {requireFrames} from '../report/require-frames.ts';
import {type ReadInfo, runSession} from '../session/run-session.ts';
import type {Snapshot} from '../session/snapshot.ts';
import type {CheckOptions} from './check.ts';

/** How long a port is read when nothing else is said. */
const portSeconds = 20;

/** What came of one of several sources: how it ended, or why it could not be read. */
export type CheckedOne = {readonly snapshot: Snapshot; readonly info: ReadInfo} | {readonly why: string};

/** Reads one of several sources to its end; `progress` is told the share that is read, 0…1. Throws defects only. */
export async function checkOne(
	name: string,
	options: CheckOptions,
	io: Pick<CommandIo, 'stdin' | 'signal'>,
	progress: (share: number) => void,
): Promise<CheckedOne> {
	try {
		const {source, session} = await openNamedSource(name, options, io);
		const isPort = source.info.kind === 'serial' || source.info.kind === 'tcp';
		const forSeconds = options.for ?? (isPort ? portSeconds : undefined);
		const run = await runSession(source, {
			session: {...session, keepsTrend: false},
			...(forSeconds !== undefined && {forSeconds}),
			signal: io.signal,
			progress,
		});
		requireFrames(run);
		return {snapshot: run.snapshot, info: run.info};
	} catch (error) {
		if (error instanceof CannotError) return {why: error.message};
		throw error;
	}
}
