import {openNamedSource} from '../../source/command-line/source-options.ts';
import {runSession, type SessionRun} from '../../source/session/run-session.ts';

const folder = new URL('../../recordings/', import.meta.url);

/** Sessions themselves are large and are not kept. */
type Checked = Pick<SessionRun, 'snapshot' | 'info'>;

const checked = new Map<string, Promise<Checked>>();

/** A sample of recordings/ (without its ending) as `check` reads it: with what its sheet declares. Read once a worker. */
export function checkSample(name: string): Promise<Checked> {
	let run = checked.get(name);
	if (run === undefined) {
		run = read(name);
		checked.set(name, run);
	}

	return run;
}

/** The same as a source with the options of its session, to be read by the caller. */
export function openSample(name: string) {
	return openNamedSource(
		new URL(`${name}.gbrec`, folder).pathname,
		{},
		{stdin: process.stdin, signal: new AbortController().signal},
	);
}

async function read(name: string): Promise<Checked> {
	const {source, session} = await openSample(name);
	const {snapshot, info} = await runSession(source, {session});
	// Worked out when first asked for, from the session: asked now, the session can go.
	return {snapshot: {...snapshot, checks: snapshot.checks}, info};
}
