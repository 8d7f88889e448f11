import {CannotError} from '../cannot-error.ts';
import type {CommandIo, Output} from '../command-line/command-io.ts';
import type {SourceOptions} from '../command-line/source-options.ts';
import {checkJson, terminalSafeJson} from '../report/check-json.ts';
import {FollowEvents} from '../report/follow-events.ts';
import {ProgressBar} from '../report/progress-bar.ts';
import {requireFrames} from '../report/require-frames.ts';
import {type RunOptions, runSession, type SessionRun} from '../session/run-session.ts';
import type {Snapshot} from '../session/snapshot.ts';
import type {Source} from '../stream/source.ts';
import {escapeText} from '../text/escape-text.ts';

export type ReportFormat = {
	readonly json?: boolean;
	readonly markdown?: boolean;
	/** With `markdown`: everything, however long. */
	readonly full?: boolean;
	readonly color?: boolean;
	readonly ascii?: boolean;
};

export type CheckOptions = SourceOptions &
	ReportFormat & {
		readonly source: string;
		/** Seconds to read. A port is read for 20 s without it, anything else to its end. */
		readonly for?: number;
		/** Prints events as they happen. */
		readonly follow?: boolean;
		/** Writes the report as a page to this file, besides. */
		readonly html?: string;
	};

type CheckIo = Pick<CommandIo, 'stdin' | 'stdout' | 'stderr' | 'signal'>;

/** How long a port is read when nothing else is said. */
const portSeconds = 20;

/** 1 where something was found at failure or out-of-spec, now or at any time of the session; else 0. */
export function statusOf({findings}: Pick<Snapshot, 'findings'>): number {
	return findings.some(({status}) => status === 'failure' || status === 'out-of-spec') ? 1 : 0;
}

/** The report on a finished session, as it goes to stdout: text for a terminal unless JSON or Markdown is asked for. */
export async function reportFor(run: SessionRun, format: ReportFormat = {}): Promise<string> {
	const {snapshot, info} = run;
	if (format.json) return `${terminalSafeJson(checkJson(snapshot, info), 2)}\n`;
	if (format.markdown) {
		const {markdownReport} = await import('../report/markdown-report.ts');
		return markdownReport(run, {full: format.full === true, ascii: format.ascii});
	}

	const {textReport} = await import('../report/text-report.ts');
	return textReport(snapshot, info, {color: format.color === true, ascii: format.ascii === true});
}

/**
 * `check SOURCE`: reads the source, prints the report, and resolves to 1 where something was found at failure or
 * out-of-spec. Throws `CannotError` for what cannot be read or understood.
 */
export async function checkCommand(options: CheckOptions, io: CheckIo): Promise<number> {
	checkFormats(options);
	const {openNamedSource} = await import('../command-line/source-options.ts');
	const {source, session} = await openNamedSource(options.source, options, io);
	return checkSource(source, session, options, io);
}

/** `check` on a source that is open already. */
export async function checkSource(
	source: Source,
	session: RunOptions['session'],
	options: Omit<CheckOptions, 'source'>,
	{stdout, stderr, signal}: Pick<CheckIo, 'stdout' | 'stderr' | 'signal'>,
): Promise<number> {
	const isPort = source.info.kind === 'serial' || source.info.kind === 'tcp';
	const forSeconds = options.for ?? (isPort && !options.follow ? portSeconds : undefined);
	if (options.follow) {
		const write = await followWriter(stdout, options);
		return followSource(source, {session, forSeconds, signal}, write);
	}

	const bar = new ProgressBar(stderr, `Reading ${escapeText(source.info.name, 40)}`);
	const run = await runSession(source, {session, forSeconds, signal, progress: share => bar.show(share)});
	bar.clear();
	requireFrames(run);
	if (options.html !== undefined) {
		const {writePage} = await import('../report/write-page.ts');
		const {htmlReport} = await import('../report/html/page.ts');
		await writePage(options.html, htmlReport(run));
	}

	stdout.write(await reportFor(run, options));
	return statusOf(run.snapshot);
}

async function followSource(
	source: Source,
	options: RunOptions,
	write: (event: ReturnType<FollowEvents['start']>) => void,
): Promise<number> {
	const events = new FollowEvents();
	write(events.start(source.info));
	const {snapshot} = await runSession(source, {
		...options,
		watch: session => {
			for (const event of events.update(session)) write(event);
		},
	});
	write(events.end(snapshot));
	return statusOf(snapshot);
}

/** One write per line, so that whoever reads the pipe has each event at once. */
async function followWriter(stdout: Output, {json, ascii}: ReportFormat) {
	if (json) return (event: object) => void stdout.write(`${terminalSafeJson(event)}\n`);
	const {followText} = await import('../report/follow-text.ts');
	return (event: Parameters<typeof followText>[0]) => {
		for (const line of followText(event, ascii === true)) stdout.write(`${line}\n`);
	};
}

function checkFormats({json, markdown, full, follow, html}: CheckOptions): void {
	if (json && markdown) throw new CannotError('--json and --markdown exclude each other: name one of them.');
	if (full && !markdown) throw new CannotError('--full belongs to --markdown: give both, or leave it out.');
	if (follow && html !== undefined) throw new CannotError('--follow writes no page: leave out --html, or --follow.');
	if (follow && markdown)
		throw new CannotError('--follow prints events: it goes with --json or alone, not with --markdown.');
}
