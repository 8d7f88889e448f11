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
	readonly b: string;
	readonly json?: boolean;
	readonly markdown?: boolean;
	/** Writes the comparison as a page to this file, besides. */
	readonly html?: string;
	readonly ascii?: boolean;
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
	const a = await read(options.a, options, io);
	const b = await read(options.b, options, io);
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
			: (await import('../compare/compare-text.ts')).compareText(comparison);
		io.stdout.write(options.ascii ? asciiText(text) : text);
	}

	return statusOf(comparison);
}

/** 1 where B has anything at failure or out-of-spec, else 0. */
export function statusOf({findings}: Comparison): number {
	const found = [...findings.appeared, ...findings.remaining];
	return found.some(({status}) => status === 'failure' || status === 'out-of-spec') ? 1 : 0;
}

async function read(name: string, options: CompareOptions, io: CompareIo): Promise<GatheredRun> {
	const {source, session} = await openNamedSource(name, options, io);
	if (source.info.kind === 'serial' || source.info.kind === 'tcp') {
		await source.close();
		throw new CannotError(`compare reads recordings and logs, not ports: record ${name} first with glovebench record.`);
	}

	const bar = new ProgressBar(io.stderr, `Reading ${escapeText(name)}`);
	const run = await gatherSource(source, {session, signal: io.signal, progress: share => bar.show(share)});
	bar.clear();
	return run;
}
