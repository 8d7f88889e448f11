import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {openNamedSource, type SourceOptions} from '../command-line/source-options.ts';
import {type Comparison, compareRuns} from '../compare/comparison.ts';
import {type GatheredRun, gatherSource} from '../fit/gather-source.ts';
import {ProgressBar} from '../report/progress-bar.ts';
import {asciiText} from '../text/ascii-text.ts';
import {escapeText} from '../text/escape-text.ts';

export type CompareOptions = Pick<SourceOptions, 'sheet' | 'baud' | 'fullScale' | 'layout' | 'rate'> & {
	/** The two recordings or logs: before and after, left and right, a user's and a good one. */
	readonly a: string;
	/** Left out: the last two sessions of the first. */
	readonly b?: string;
	readonly json?: boolean;
	readonly markdown?: boolean;
	/** Writes the comparison as a page to this file, besides. */
	readonly html?: string;
	readonly ascii?: boolean;
	/** Width of text, 60 to 120 columns; 80 where left out. */
	readonly columns?: number;
};

type CompareIo = Pick<CommandIo, 'stdin' | 'stdout' | 'stderr' | 'signal'>;

/**
 * `compare A B`: two recordings side by side. Status 1 where the second has something at failure or out-of-spec.
 * Throws `CannotError` for what cannot be read, or has no frame in it.
 */
export async function compareCommand(options: CompareOptions, io: CompareIo): Promise<number> {
	if (options.json && options.markdown)
		throw new CannotError('--json and --markdown exclude each other: name one of them.');
	if (options.a === '-' && options.b === '-')
		throw new CannotError('Standard input can be one of the two only: name a file for the other.');
	const [a, b] =
		options.b === undefined
			? await readSessions(options.a, options, io)
			: [await read(options.a, options, io), await read(options.b, options, io)];
	const comparison = compareRuns(a, b);
	if (options.html !== undefined) {
		const {writePage} = await import('../report/write-page.ts');
		const {comparisonPage} = await import('../report/html/comparison-page.ts');
		await writePage(options.html, comparisonPage(comparison, a, b));
	}

	if (options.json) {
		const {compareJson} = await import('../compare/compare-json.ts');
		const {terminalSafeJson} = await import('../report/check-json.ts');
		io.stdout.write(`${terminalSafeJson(compareJson(comparison), 2)}\n`);
	} else {
		const text = options.markdown
			? (await import('../compare/compare-markdown.ts')).compareMarkdown(comparison)
			: (await import('../compare/compare-text.ts')).compareText(comparison, options.columns);
		io.stdout.write(options.ascii ? asciiText(text) : text);
	}

	return statusOf(comparison);
}

/** 1 where B has anything at failure or out-of-spec, else 0. */
export function statusOf({findings}: Comparison): number {
	const found = [...findings.appeared, ...findings.remaining];
	return found.some(({status}) => status === 'failure' || status === 'out-of-spec') ? 1 : 0;
}

/** The last two of the sessions in one log, the earlier one first. */
async function readSessions(
	name: string,
	options: CompareOptions,
	io: CompareIo,
): Promise<readonly [GatheredRun, GatheredRun]> {
	if (name === '-')
		throw new CannotError('Standard input cannot be read twice: save it to a file, then glovebench compare FILE.');
	const last = await read(name, options, io);
	const count = last.info.sessions?.length ?? 1;
	if (count < 2)
		throw new CannotError(
			`${name} holds one session: name a second recording or log to hold against it, as in glovebench compare BEFORE AFTER.`,
		);
	const before = await read(name, options, io, count - 1);
	const named = (run: GatheredRun, part: number): GatheredRun => ({
		...run,
		info: {...run.info, name: `${run.info.name}, session ${part}`},
	});
	return [named(before, count - 1), named(last, count)];
}

async function read(name: string, options: CompareOptions, io: CompareIo, part?: number): Promise<GatheredRun> {
	const {source, session} = await openNamedSource(name, options, io);
	if (source.info.kind === 'serial' || source.info.kind === 'tcp') {
		await source.close();
		throw new CannotError(`compare reads recordings and logs, not ports: record ${name} first with glovebench record.`);
	}

	const bar = new ProgressBar(io.stderr, `Reading ${escapeText(name)}`);
	const run = await gatherSource(source, {
		session,
		signal: io.signal,
		...(part !== undefined && {part}),
		progress: share => bar.show(share),
	});
	bar.clear();
	return run;
}
