import {CannotError} from '../cannot-error.ts';
import type {CommandIo, Output} from '../command-line/command-io.ts';
import type {SourceOptions} from '../command-line/source-options.ts';
import type {Fault} from '../faults/fault.ts';
import {withConfirmedEnds} from '../fit/confirmed-ends.ts';
import {GatherWatch} from '../fit/gather-watch.ts';
import {checkJson, terminalSafeJson} from '../report/check-json.ts';
import {Countdown} from '../report/countdown.ts';
import {FollowEvents} from '../report/follow-events.ts';
import type {CheckedSource} from '../report/junit.ts';
import {ProgressBar} from '../report/progress-bar.ts';
import {requireFrames} from '../report/require-frames.ts';
import {profileText, StageProfile} from '../report/stage-profile.ts';
import type {Why} from '../session/check-rows.ts';
import {type RunOptions, runSession, type SessionRun} from '../session/run-session.ts';
import type {Snapshot} from '../session/snapshot.ts';
import type {Source} from '../stream/source.ts';
import {asciiText} from '../text/ascii-text.ts';
import {escapeText} from '../text/escape-text.ts';

export type ReportFormat = {
	readonly json?: boolean;
	readonly markdown?: boolean;
	/** With `markdown`: everything, however long. */
	readonly full?: boolean;
	/** A message in plain words for the glove's builder. */
	readonly reply?: boolean;
	/** OpenMetrics text. */
	readonly openmetrics?: boolean;
	readonly color?: boolean;
	readonly ascii?: boolean;
	/** Width of text, 60 to 120 columns; 80 where left out. */
	readonly columns?: number;
};

export type CheckOptions = SourceOptions &
	ReportFormat & {
		readonly source: string;
		/** More sources: then the report is a table. */
		readonly more?: readonly string[];
		/** Seconds to read. A port is read for 20 s without it, anything else to its end. */
		readonly for?: number;
		/** Prints events as they happen. */
		readonly follow?: boolean;
		/** Writes the report as a page to this file, besides. */
		readonly html?: string;
		/** Writes the checks as JUnit XML to this file, besides. */
		readonly junit?: string;
		/** Status 1 unless the verdict is `pass`. */
		readonly proven?: boolean;
		/** `CODE[:CHANNEL]`: prints why this was not found instead of the report. */
		readonly why?: string;
	};

type CheckIo = Pick<CommandIo, 'stdin' | 'stdout' | 'stderr' | 'signal'>;

/** How long a port is read when nothing else is said. */
const portSeconds = 20;

/** 1 where something at failure or out-of-spec weighs; with `proven` unless everything is proven as well; else 0. */
export function statusOf({verdict}: Pick<Snapshot, 'verdict'>, proven = false): number {
	return verdict === 'fail' || (proven && verdict !== 'pass') ? 1 : 0;
}

/** The report on a finished session, as it goes to stdout: text for a terminal unless JSON or Markdown is asked for. */
export async function reportFor(run: SessionRun, format: ReportFormat = {}): Promise<string> {
	const {snapshot, info} = run;
	if (format.json) return `${terminalSafeJson(checkJson(snapshot, info), 2)}\n`;
	if (format.markdown) {
		const {markdownReport} = await import('../report/markdown-report.ts');
		return markdownReport(run, {full: format.full === true, ascii: format.ascii});
	}

	if (format.openmetrics) {
		const {openMetrics} = await import('../report/openmetrics.ts');
		return openMetrics([{name: info.name, snapshot, info}]);
	}

	if (format.reply) {
		const {replyText} = await import('../report/reply/reply-text.ts');
		const text = replyText(snapshot, info);
		return format.ascii === true ? asciiText(text) : text;
	}

	const {textReport} = await import('../report/text-report.ts');
	return textReport(snapshot, info, {
		color: format.color === true,
		ascii: format.ascii === true,
		columns: format.columns,
	});
}

/**
 * `check SOURCE`: reads the source, prints the report, and resolves to 1 where something at failure or out-of-spec
 * weighs. Throws `CannotError` for what cannot be read or understood.
 */
export async function checkCommand(options: CheckOptions, io: CheckIo): Promise<number> {
	checkFormats(options);
	if (options.why !== undefined) await askedWhy(options.why);
	if (options.more !== undefined && options.more.length > 0) {
		const {checkMany} = await import('./check-many.ts');
		return checkMany([options.source, ...options.more], options, io);
	}

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
		return followSource(source, {session, forSeconds, signal}, write, options.proven);
	}

	const bar = new ProgressBar(stderr, `Reading ${escapeText(source.info.name, 40)}`);
	const countdown =
		isPort && stderr.isTTY && forSeconds !== undefined ? new Countdown(stderr, source.info, forSeconds) : undefined;
	const profile = process.env.GLOVEBENCH_PROFILE === '1' ? new StageProfile() : undefined;
	const gathering = new GatherWatch(options.session, true);
	const read = await runSession(source, {
		session: {
			...session,
			// Only these two draw charts.
			keepsTrend: options.html !== undefined || options.markdown === true,
			...(profile !== undefined && {meter: profile}),
		},
		forSeconds,
		signal,
		...(options.session !== undefined && {part: options.session}),
		watch: running => {
			gathering.follow(running);
			countdown?.show(running);
		},
		progress: share => bar.show(share),
	}).finally(() => countdown?.clear());
	const run = {...read, snapshot: withConfirmedEnds(read.snapshot, gathering.gatherer)};
	bar.clear();
	if (profile !== undefined) stderr.write(profileText(profile, run.snapshot.link.frames));
	requireFrames(run);
	if (options.html !== undefined) {
		const {writePage} = await import('../report/write-page.ts');
		const {htmlReport} = await import('../report/html/page.ts');
		await writePage(options.html, htmlReport(run));
	}

	if (options.junit !== undefined) await writeJunit(options.junit, [{name: run.info.name, ...run}]);
	stdout.write(options.why === undefined ? await reportFor(run, options) : await whyFor(run, options.why, options));
	return statusOf(run.snapshot, options.proven);
}

/** Writes checked sources as JUnit XML. Throws `CannotError` where it cannot be written. */
export async function writeJunit(file: string, sources: readonly CheckedSource[]): Promise<void> {
	const [{writePage}, {junitXml}] = await Promise.all([
		import('../report/write-page.ts'),
		import('../report/junit.ts'),
	]);
	await writePage(file, junitXml(sources), 'junit');
}

/** The code and channel that `--why` names. Throws `CannotError` for a code that there is not, or that no stream shows. */
async function askedWhy(why: string): Promise<{readonly fault: Fault; readonly channel: string | undefined}> {
	const {namedFault} = await import('../faults/named-fault.ts');
	const [code = '', ...channel] = why.split(':');
	const fault = namedFault(code);
	if (fault.ways.length === 0)
		throw new CannotError(`--why ${fault.code}: only the bring-up can find it, as it asks for one movement at a time.`);
	return {fault, channel: channel.length > 0 ? channel.join(':') : undefined};
}

/** Why a check was not raised in a finished session, of each channel it is asked about. */
async function whyFor(
	{session, snapshot, info}: SessionRun,
	why: string,
	{json, ascii, columns}: ReportFormat,
): Promise<string> {
	const {whyRows} = await import('../session/check-rows.ts');
	const {fault, channel} = await askedWhy(why);
	const rows = whyRows(session, fault, channel);
	if (rows.length === 0) throw new CannotError(noRowText(fault, channel, whyRows(session, fault)));
	if (json) {
		const {whyJson} = await import('../report/why-json.ts');
		return `${terminalSafeJson(whyJson(fault.code, rows, info), 2)}\n`;
	}

	const {whyText} = await import('../report/why-text.ts');
	const text = whyText(rows, snapshot.findings, columns);
	return ascii ? asciiText(text) : text;
}

function noRowText({code, scope}: Fault, channel: string | undefined, rows: readonly Why[]): string {
	const names = rows.map(row => row.channel);
	if (names.length === 0) return `--why ${code}: there is nothing in this stream that it is judged on (${scope}).`;
	const named = escapeText(JSON.stringify(channel), 40);
	return names[0] === null
		? `--why ${code}: it is judged on the link, not on a channel: leave out ${named}.`
		: `--why ${code}: it is judged on no channel ${named}; name one of ${names.join(', ')}.`;
}

async function followSource(
	source: Source,
	options: RunOptions,
	write: (event: ReturnType<FollowEvents['start']>) => void,
	proven: boolean | undefined,
): Promise<number> {
	const events = new FollowEvents();
	write(events.start(source.info));
	const run = await runSession(source, {
		...options,
		split: false,
		watch: session => {
			for (const event of events.update(session)) write(event);
		},
	});
	write(events.end(run.snapshot));
	// As without --follow: what had no frame in it is no pass.
	requireFrames(run);
	return statusOf(run.snapshot, proven);
}

/** One write per line, so that whoever reads the pipe has each event at once. */
async function followWriter(stdout: Output, {json, ascii}: ReportFormat) {
	if (json) return (event: object) => void stdout.write(`${terminalSafeJson(event)}\n`);
	const {followText} = await import('../report/follow-text.ts');
	return (event: Parameters<typeof followText>[0]) => {
		for (const line of followText(event, ascii === true)) stdout.write(`${line}\n`);
	};
}

/** What cannot be asked for together, and what to leave out; the first that holds is said. */
const clashes: readonly {readonly isSo: (options: CheckOptions) => unknown; readonly text: string}[] = [
	{
		isSo: ({more = [], markdown, follow, html, why, session}) =>
			more.length > 0 && (markdown || follow || html !== undefined || why !== undefined || session !== undefined),
		text: 'Several sources give a table, which goes with --json, --reply, --openmetrics, --junit or alone: for --markdown, --html, --follow, --why or --session name one source.',
	},
	{
		isSo: ({follow, session}) => follow && session !== undefined,
		text: '--follow tells of all sessions as they come: leave out --session, or --follow.',
	},
	{
		isSo: ({json, markdown}) => json && markdown,
		text: '--json and --markdown exclude each other: name one of them.',
	},
	{
		isSo: ({reply, json, markdown, follow, why}) => reply && (json || markdown || follow || why !== undefined),
		text: '--reply prints a message instead of the report: leave out --json, --markdown, --follow and --why, or --reply.',
	},
	{
		isSo: ({openmetrics, json, markdown, reply, follow, why}) =>
			openmetrics && (json || markdown || reply || follow || why !== undefined),
		text: '--openmetrics prints metrics instead of the report: leave out --json, --markdown, --reply, --follow and --why, or --openmetrics.',
	},
	{
		isSo: ({follow, junit}) => follow && junit !== undefined,
		text: '--follow writes no JUnit file: leave out --junit, or --follow.',
	},
	{
		isSo: ({full, markdown}) => full && !markdown,
		text: '--full belongs to --markdown: give both, or leave it out.',
	},
	{
		isSo: ({follow, html}) => follow && html !== undefined,
		text: '--follow writes no page: leave out --html, or --follow.',
	},
	{
		isSo: ({why, markdown, follow}) => why !== undefined && (markdown || follow),
		text: '--why prints reasons instead of the report: it goes with --json or alone.',
	},
	{
		isSo: ({follow, markdown}) => follow && markdown,
		text: '--follow prints events: it goes with --json or alone, not with --markdown.',
	},
];

function checkFormats(options: CheckOptions): void {
	const clash = clashes.find(({isSo}) => isSo(options));
	if (clash !== undefined) throw new CannotError(clash.text);
}
