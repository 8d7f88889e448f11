import path from 'node:path';
import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {openNamedSource, type SourceOptions} from '../command-line/source-options.ts';
import {ProgressBar} from '../report/progress-bar.ts';
import {isLiveSpec} from '../sources/source-spec.ts';
import {escapeText} from '../text/escape-text.ts';

export type ReportOptions = Pick<SourceOptions, 'sheet' | 'baud' | 'fullScale' | 'layout' | 'rate' | 'session'> & {
	readonly recording: string;
	/** A second recording to hold against the first. */
	readonly second?: string;
	/** The page to write, - for standard output. Default: the recording's name with `.html`, in the current folder. */
	readonly output?: string;
	/** Writes each chart of the page as a picture into this folder, besides. */
	readonly svg?: string;
};

type ReportIo = Pick<CommandIo, 'stdin' | 'stdout' | 'stderr' | 'signal'>;

/** A page, what it comes to in a line, and the exit status that the command of its kind would have. */
type Report = {readonly page: string; readonly sentence: string; readonly status: number};

/**
 * `report RECORDING [SECOND]`: one self-contained page. Of one recording it tells what `check` tells, or `bringup` where
 * its marks say that it is a bring-up; of two what `compare` tells. Resolves to the status of that command. Throws
 * `CannotError` for what cannot be read or written.
 */
export async function reportCommand(options: ReportOptions, io: ReportIo): Promise<number> {
	const {recording, second} = options;
	for (const name of second === undefined ? [recording] : [recording, second]) {
		if (name !== '-' && isLiveSpec(name)) {
			throw new CannotError(
				`report reads recordings and logs, not ports: glovebench check ${name} --html FILE makes a page of a port.`,
			);
		}
	}

	if (recording === '-' && second === '-')
		throw new CannotError('Standard input can be one of the two only: name a file for the other.');
	const {page, sentence, status} =
		second === undefined ? await reportOne(recording, options, io) : await reportTwo(recording, second, options, io);
	if (options.svg !== undefined) {
		const {writeCharts} = await import('../report/write-charts.ts');
		const count = await writeCharts(options.svg, page);
		io.stderr.write(`${count} charts are in ${escapeText(options.svg)}.\n`);
	}

	if (options.output === '-') {
		io.stdout.write(page);
		return status;
	}

	const {writePage} = await import('../report/write-page.ts');
	const file = options.output ?? pageName(recording, second);
	await writePage(file, page);
	io.stdout.write(`${escapeText(sentence)}\n`);
	io.stderr.write(`The page is in ${escapeText(file)} (${Math.ceil(Buffer.byteLength(page) / 1000)} kB).\n`);
	return status;
}

async function reportOne(name: string, options: ReportOptions, io: ReportIo): Promise<Report> {
	const mount = name === '-' ? undefined : await reportMount(name);
	if (mount !== undefined) return mount;
	const [{runSession}, {GatherWatch, stepMarkPrefix}, {withConfirmedEnds}] = await Promise.all([
		import('../session/run-session.ts'),
		import('../fit/gather-watch.ts'),
		import('../fit/confirmed-ends.ts'),
	]);
	const gathering = new GatherWatch(options.session, true);
	const read = await reading(name, options, io, (source, given) =>
		runSession(source, {
			...given,
			...(options.session !== undefined && {part: options.session}),
			watch: session => gathering.follow(session),
		}),
	);
	const run = {...read, snapshot: withConfirmedEnds(read.snapshot, gathering.gatherer)};
	// Standard input cannot be read a second time.
	if (name !== '-' && run.snapshot.marks.some(({mark}) => mark.startsWith(stepMarkPrefix))) {
		return reportBringUp(name, options, io);
	}

	const {requireFrames} = await import('../report/require-frames.ts');
	requireFrames(run);
	const [{htmlReport}, {verdictSentence, verdictWord}, {statusOf}] = await Promise.all([
		import('../report/html/page.ts'),
		import('../report/verdict-text.ts'),
		import('./check.ts'),
	]);
	return {
		page: htmlReport(run),
		sentence: `${verdictWord(run.snapshot.verdict)}: ${verdictSentence(run.snapshot)}`,
		status: statusOf(run.snapshot),
	};
}

/** The largest file that may be what `mount --json` printed: a few kB, a hundred times over. */
const mostMountBytes = 1_000_000;

/** The page of what `mount --json` printed; undefined for any other file, which is then read as a recording or log. */
async function reportMount(name: string): Promise<Report | undefined> {
	const {readFile, stat} = await import('node:fs/promises');
	const found = await stat(name).catch(() => undefined);
	if (!found?.isFile() || found.size > mostMountBytes) return undefined;
	const text = await readFile(name, 'utf8').catch(() => '');
	if (!text.startsWith('{') || !text.slice(0, mountHead).includes('"mount"')) return undefined;
	const [{mountFactsOf, factsSentence}, {mountPage}] = await Promise.all([
		import('../mount/mount-facts.ts'),
		import('../report/html/mount-page.ts'),
	]);
	const facts = mountFactsOf(text);
	if (facts === undefined) return undefined;
	const sentence = factsSentence(facts);
	return {
		page: mountPage({...facts, sentence}),
		sentence: `${facts.verdict.toUpperCase()}: ${sentence}`,
		status: facts.verdict === 'pass' ? 0 : 1,
	};
}

/** Its kind stands within so many characters. */
const mountHead = 200;

async function reportBringUp(name: string, options: ReportOptions, io: ReportIo): Promise<Report> {
	const [{runBringUp}, {requireResult}, {bringUpPage}, {verdictSentence}] = await Promise.all([
		import('../bringup/run-bring-up.ts'),
		import('../bringup/finished-bring-up.ts'),
		import('../report/html/bring-up-page.ts'),
		import('../bringup/bring-up-text.ts'),
	]);
	const run = await reading(name, options, io, (source, given, sheet) =>
		runBringUp(source, {...given, sheet, isPrompted: false}),
	);
	const finished = requireResult(run);
	const {result} = finished;
	return {
		page: bringUpPage(finished),
		sentence: `${result.verdict.toUpperCase()}: ${verdictSentence(result)}`,
		status: result.verdict === 'pass' ? 0 : 1,
	};
}

async function reportTwo(first: string, second: string, options: ReportOptions, io: ReportIo): Promise<Report> {
	const [{statusOf}, {compareRuns}, {gatherSource}, {comparisonPage}] = await Promise.all([
		import('./compare.ts'),
		import('../compare/comparison.ts'),
		import('../fit/gather-source.ts'),
		import('../report/html/comparison-page.ts'),
	]);
	const a = await reading(first, options, io, gatherSource);
	const b = await reading(second, options, io, gatherSource);
	const comparison = compareRuns(a, b);
	const {verdict} = comparison;
	return {
		page: comparisonPage(comparison, a, b),
		sentence: `${verdict.word.toUpperCase()}: ${verdict.sentence}`,
		status: statusOf(comparison),
	};
}

type Opened = Awaited<ReturnType<typeof openNamedSource>>;

/** What a run over a source is given: what is declared, when to stop, where to tell how far it is. */
type Given = {
	readonly session: Opened['session'];
	readonly signal: AbortSignal;
	readonly progress: (share: number) => void;
};

async function reading<Run>(
	name: string,
	options: ReportOptions,
	io: ReportIo,
	run: (source: Opened['source'], given: Given, sheet: Opened['sheet']) => Promise<Run>,
): Promise<Run> {
	const {source, session, sheet} = await openNamedSource(name, options, io);
	const bar = new ProgressBar(io.stderr, `Reading ${escapeText(name, 40)}`);
	try {
		return await run(source, {session, signal: io.signal, progress: share => bar.show(share)}, sheet);
	} finally {
		bar.clear();
	}
}

/** `left.gbrec.gz` gives `left.html`; two give `before-and-after.html`. */
function pageName(first: string, second: string | undefined): string {
	const stems = [first, ...(second === undefined ? [] : [second])].map(name =>
		name === '-'
			? 'report'
			: path.basename(name).replace(/(?<=.)\.(gbr|gbrec|txt|log|csv|tsv|json|ndjson)?(\.gz)?$/i, ''),
	);
	return `${stems.join('-and-')}.html`;
}
