import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {itemAt} from '../item-at.ts';
import {checkJson, terminalSafeJson} from '../report/check-json.ts';
import {ProgressBar} from '../report/progress-bar.ts';
import {sourcesTable, type TableRow} from '../report/sources-table.ts';
import {asciiText} from '../text/ascii-text.ts';
import {escapeText} from '../text/escape-text.ts';
import {type CheckOptions, statusOf, writeJunit} from './check.ts';
import {type CheckedOne, checkOne} from './check-one.ts';
import {checkInThreads, threadsFor} from './check-threads.ts';

/**
 * `check A B C…`: one source after the other, or several at once, then a line on each, the worst first. Resolves to 2 where one could not be
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
	let at = 0;
	for await (const checked of checkAll(names, options, io)) {
		const row: TableRow = {name: itemAt(names, at++), ...checked};
		rows.push(row);
		await writeRow(row, options, io);
		status = Math.max(status, 'why' in row ? 2 : statusOf(row.snapshot, options.proven));
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

/** What is written of each source as soon as it is read: nothing where a table follows. */
async function writeRow(
	row: TableRow,
	{json, reply, openmetrics, ascii}: CheckOptions,
	{stdout, stderr}: Pick<CommandIo, 'stdout' | 'stderr'>,
): Promise<void> {
	if ('why' in row) {
		if (json || reply || openmetrics) stderr.write(`glovebench: ${escapeText(row.why)}\n`);
		return;
	}

	const {name, snapshot, info} = row;
	if (json) stdout.write(`${terminalSafeJson(checkJson(snapshot, info))}\n`);
	if (!reply) return;
	const {replyText} = await import('../report/reply/reply-text.ts');
	const text = `--- ${escapeText(name)}\n\n${replyText(snapshot, info)}\n`;
	stdout.write(ascii ? asciiText(text) : text);
}

/** What came of each source, in the order given: large files on as many threads as there are cores, else one after the other. */
async function* checkAll(
	names: readonly string[],
	options: CheckOptions,
	io: Pick<CommandIo, 'stdin' | 'stderr' | 'signal'>,
): AsyncGenerator<CheckedOne> {
	const threads = threadsFor(names);
	if (threads > 0) {
		const bar = new ProgressBar(io.stderr, `Reading ${names.length} files`);
		for await (const checked of checkInThreads(names, options, io.signal, threads, share => bar.show(share))) {
			bar.clear();
			yield checked;
		}
		return;
	}

	for (const name of names) {
		const bar = new ProgressBar(io.stderr, `Reading ${escapeText(name, 40)}`);
		const checked = await checkOne(name, options, io, share => bar.show(share)).finally(() => bar.clear());
		yield checked;
	}
}
