import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {openNamedSource, type SourceOptions} from '../command-line/source-options.ts';
import type {CordCurve} from '../fit/finger-settings.ts';
import {fitSettings} from '../fit/fit.ts';
import {gatherSource} from '../fit/gather-source.ts';
import {stepMarkPrefix} from '../fit/gather-watch.ts';
import {ProgressBar} from '../report/progress-bar.ts';
import type {Session} from '../session/session.ts';
import {isPlainFile} from '../sources/open-source.ts';
import {asciiText} from '../text/ascii-text.ts';
import {escapeText} from '../text/escape-text.ts';

export type FitOptions = SourceOptions & {
	readonly source: string;
	/** Seconds to read. A port is read for a minute without it, anything else to its end. */
	readonly for?: number;
	readonly json?: boolean;
	/** Prints a C header. */
	readonly header?: boolean;
	readonly ascii?: boolean;
	/** Width of text, 60 to 120 columns; 80 where left out. */
	readonly columns?: number;
};

type FitIo = Pick<CommandIo, 'stdin' | 'stdout' | 'stderr' | 'signal'>;

/** How long a port is read when nothing else is said: time for the movements asked for. */
const portSeconds = 60;

/**
 * `fit SOURCE`: settings from a session with some movement, as text, JSON or a C header. Status 1 where something was
 * refused. Throws `CannotError` where the source cannot be read, or where nothing at all can be given.
 */
export async function fitCommand(options: FitOptions, io: FitIo): Promise<number> {
	if (options.json && options.header)
		throw new CannotError('--json and --header exclude each other: name one of them.');
	const {source, session, sheet} = await openNamedSource(options.source, options, io);
	const isPort = source.info.kind === 'serial' || source.info.kind === 'tcp';
	const forSeconds = options.for ?? (isPort ? portSeconds : undefined);
	if (isPort) {
		io.stderr.write(
			`Reading for ${forSeconds} s: rest the open hand, close and open it five times, turn the stick around and let it go a few times. Ctrl-C ends it sooner.\n`,
		);
	}

	const bar = new ProgressBar(io.stderr, `Reading ${escapeText(source.info.name)}`);
	const run = await gatherSource(source, {
		session,
		forSeconds,
		signal: io.signal,
		...(options.session !== undefined && {part: options.session}),
		progress: share => bar.show(share),
	});
	bar.clear();
	const curves = await curvesOf(options, run.session, io);
	const result = fitSettings(run.session, run.gathered, sheet, curves);
	if (result.fingers.length === 0 && result.stick === null) {
		const reasons = result.refused.map(({name, reason}) => `${name}: ${reason}`).join(' ');
		throw new CannotError(`${source.info.name} does not suffice for settings. ${reasons}`);
	}

	if (options.json) {
		const {fitJson} = await import('../fit/fit-json.ts');
		const {terminalSafeJson} = await import('../report/check-json.ts');
		io.stdout.write(`${terminalSafeJson(fitJson(result, run.info), 2)}\n`);
	} else if (options.header) {
		const {fitHeader} = await import('../fit/fit-header.ts');
		io.stdout.write(asciiText(fitHeader(result, run.info.name)));
	} else {
		const {fitText} = await import('../fit/fit-text.ts');
		const text = fitText(result, escapeText(run.info.name), options.columns, sheet);
		io.stdout.write(options.ascii ? asciiText(text) : text);
	}

	return result.refused.length > 0 ? 1 : 0;
}

/** Any: a table at even lengths of cord is the same whatever they are. */
const rulerMm = 1;

/** What a ruler gave of each reel, by column, where the source is a recording of a bring-up along one. */
async function curvesOf(
	options: FitOptions,
	{marks}: Session,
	io: FitIo,
): Promise<ReadonlyMap<number, CordCurve> | undefined> {
	if (!marks.some(({mark}) => mark.startsWith(`${stepMarkPrefix}ruler `)) || !(await isPlainFile(options.source)))
		return undefined;
	const {runBringUp} = await import('../bringup/run-bring-up.ts');
	const {source, session, sheet} = await openNamedSource(options.source, options, io);
	try {
		const {result} = await runBringUp(source, {session, sheet, signal: io.signal, isPrompted: false, rulerMm});
		return new Map(
			(result?.reels ?? []).flatMap(({column, curve}) =>
				curve === null || 'reason' in curve ? [] : [[column, curve.curve] as const],
			),
		);
	} finally {
		await source.close();
	}
}
