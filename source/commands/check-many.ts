import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {openNamedSource} from '../command-line/source-options.ts';
import {checkJson, terminalSafeJson} from '../report/check-json.ts';
import {ProgressBar} from '../report/progress-bar.ts';
import {requireFrames} from '../report/require-frames.ts';
import {sourcesTable, type TableRow} from '../report/sources-table.ts';
import {runSession} from '../session/run-session.ts';
import {asciiText} from '../text/ascii-text.ts';
import {escapeText} from '../text/escape-text.ts';
import {type CheckOptions, statusOf, writeJunit} from './check.ts';

const portSeconds = 20;

/**
 * `check A B C…`: one source after the other, then a line on each, the worst first. Resolves to 2 where one could not be
 * read, else to 1 where something at failure or out-of-spec weighs in any.
 */
export async function checkMany(
	names: readonly string[],
	options: CheckOptions,
	io: Pick<CommandIo, 'stdin' | 'stdout' | 'stderr' | 'signal'>,
): Promise<number> {
	if (names.filter(name => name === '-').length > 1)
		throw new CannotError('Standard input can be one of the sources only: name files for the others.');
	const rows: TableRow[] = [];
	let status = 0;
	for (const name of names) {
		const bar = new ProgressBar(io.stderr, `Reading ${escapeText(name, 40)}`);
		try {
			const {source, session} = await openNamedSource(name, options, io);
			const isPort = source.info.kind === 'serial' || source.info.kind === 'tcp';
			const forSeconds = options.for ?? (isPort ? portSeconds : undefined);
			const run = await runSession(source, {
				session,
				...(forSeconds !== undefined && {forSeconds}),
				signal: io.signal,
				progress: share => bar.show(share),
			});
			bar.clear();
			requireFrames(run);
			if (options.json) io.stdout.write(`${terminalSafeJson(checkJson(run.snapshot, run.info))}\n`);
			if (options.reply) {
				const {replyText} = await import('../report/reply/reply-text.ts');
				const text = `--- ${escapeText(name)}\n\n${replyText(run.snapshot, run.info)}\n`;
				io.stdout.write(options.ascii ? asciiText(text) : text);
			}
			rows.push({name, snapshot: run.snapshot, info: run.info});
			status = Math.max(status, statusOf(run.snapshot, options.proven));
		} catch (error) {
			bar.clear();
			if (!(error instanceof CannotError)) throw error;
			rows.push({name, why: error.message});
			if (options.json || options.reply || options.openmetrics)
				io.stderr.write(`glovebench: ${escapeText(error.message)}\n`);
			status = 2;
		}
	}

	if (options.junit !== undefined) await writeJunit(options.junit, rows);
	if (options.openmetrics) {
		const {openMetrics} = await import('../report/openmetrics.ts');
		io.stdout.write(openMetrics(rows));
	} else if (!options.json && !options.reply) {
		const text = sourcesTable(rows, options.columns);
		io.stdout.write(options.ascii ? asciiText(text) : text);
	}

	return status;
}
