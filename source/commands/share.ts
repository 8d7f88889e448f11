import {stat} from 'node:fs/promises';
import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {openNamedSource, type SourceOptions} from '../command-line/source-options.ts';
import {whyNotCreated} from '../recording/recording-errors.ts';
import {RecordingWriter} from '../recording/recording-writer.ts';
import {ProgressBar} from '../report/progress-bar.ts';
import {type Choice, chooseSpan, isWithin, spansToTry} from '../share/choose-span.ts';
import {cutItems, type Span} from '../share/cut-items.ts';
import {readHeaderFacts} from '../share/header-facts.ts';
import {receivedText} from '../share/received-text.ts';
import {removedLines, sharedName, sheetToShare} from '../share/removed.ts';
import {replayItems} from '../share/replay.ts';
import {shareReportLines} from '../share/share-report.ts';
import {parseSourceSpec} from '../sources/source-spec.ts';
import type {Source, SourceInfo} from '../stream/source.ts';
import type {SourceItem} from '../stream/source-item.ts';
import {escapeText} from '../text/escape-text.ts';
import {fixedText} from '../text/number-text.ts';

export type ShareOptions = Pick<SourceOptions, 'sheet' | 'baud' | 'rate'> & {
	/** The recording or plain log to copy. */
	readonly recording: string;
	/** The recording to write; compressed where its name ends in `.gz`. */
	readonly output?: string;
	/** Seconds of the recording from which on findings are to stay. */
	readonly from?: number;
	/** Seconds at which the copy ends. */
	readonly to?: number;
	/** Keep everything. */
	readonly all?: boolean;
	/** List all kinds of text that stay in the copy. */
	readonly list?: boolean;
	/** Write over a file that is there. */
	readonly force?: boolean;
};

type ShareIo = Pick<CommandIo, 'stdin' | 'stderr' | 'signal'>;

/** Shown as the start of a copy: the day glovebench's recordings count as none. */
const noDate = new Date(0);

/**
 * `share RECORDING -o FILE`: a copy without the source's name, notes, marks and date, cut to what its findings need. The
 * copy is read back and its findings are set beside the original's; all of that is said on stderr.
 *
 * @returns 0 when the copy was written, also where a finding could not be kept; 130 when stopped before.
 * @throws CannotError for what cannot be read or written, and when the copy would replace the original.
 */
export async function shareCommand(options: ShareOptions, io: ShareIo): Promise<number> {
	const {recording} = options;
	const output = await checkedOutput(options);
	const bytesBefore = (await stat(recording).catch(() => undefined))?.size ?? 0;
	const {source, session, sheet} = await openNamedSource(recording, options, io);
	const {info} = source;
	if (source.now) {
		await source.close();
		throw new CannotError(`share copies files: record ${recording} first with glovebench record.`);
	}

	const items = await readItems(source, recording, io);
	if (io.signal.aborted) return 130;
	const endsAt = Math.max(items.at(-1)?.t ?? 0, source.endedAt?.() ?? 0);
	const asked = askedSpan(options, endsAt);
	const settings = {baud: info.baud, ...session, timing: info.timing};
	const before = replayItems(items, settings, endsAt);
	const expected = asked ? before.filter(finding => isWithin(finding, asked)) : before;
	const choice = chooseSpan(spansToTry(before, endsAt, options), before, expected, span =>
		replayItems(cutItems(items, span), settings, span.to - span.from),
	);
	if (io.signal.aborted) return 130;

	const baud = settings.baud ?? null;
	const sharedSheet = sheet && sheetToShare(sheet);
	await writeCopy(
		output,
		{kind: info.kind, name: sharedName, timing: info.timing, baud},
		sharedSheet,
		items,
		choice,
		options,
	);
	const after = await readBack(output, io);
	const lines = shareReportLines({
		output,
		choice,
		endsAt,
		asked,
		removed: removedLines(
			info,
			items,
			sheet,
			info.kind === 'recording' ? await readHeaderFacts(recording) : {extras: []},
		),
		expected,
		foundBefore: before.length,
		foundAfter: after.findings,
		texts: after.texts,
		isListed: options.list === true,
		bytesBefore,
		bytesAfter: (await stat(output)).size,
	});
	io.stderr.write(lines.map(line => `${escapeText(line)}\n`).join(''));
	return 0;
}

/** The name of the copy, once it is sure that writing it destroys nothing. */
async function checkedOutput({recording, output, from, to, all, force}: ShareOptions): Promise<string> {
	if (output === undefined || output === '') {
		throw new CannotError('No file for the copy was named: give one with -o, such as -o to-send.gbrec.gz.');
	}

	if (all && (from !== undefined || to !== undefined)) {
		throw new CannotError('--all and --from or --to exclude each other: name a span, or everything.');
	}

	if (parseSourceSpec(recording).kind !== 'file') {
		throw new CannotError(`share copies files: record ${recording} first with glovebench record.`);
	}

	// The copy is read back, so it has to be a file that can be opened again by its name.
	if (parseSourceSpec(output).kind !== 'file') {
		throw new CannotError(`The copy has to be a file, which ${output} is not: give a name such as to-send.gbrec.gz.`);
	}

	const there = await stat(output).catch(() => undefined);
	const original = await stat(recording).catch(() => undefined);
	if (there && original && there.ino === original.ino && there.dev === original.dev) {
		throw new CannotError(`${output} is the recording itself, which stays as it is: give the copy another name.`);
	}

	if (there && !there.isFile() && !there.isDirectory()) {
		throw new CannotError(`The copy has to be a file, which ${output} is not: give a name such as to-send.gbrec.gz.`);
	}

	if (there && !force) {
		throw new CannotError(whyNotCreated(output, Object.assign(new Error('exists'), {code: 'EEXIST'})));
	}

	return output;
}

/** The span that was named, within the recording; undefined where none was. */
function askedSpan({from, to}: ShareOptions, endsAt: number): Span | undefined {
	if (from === undefined && to === undefined) return undefined;
	const span = {from: from ?? 0, to: Math.min(to ?? endsAt, endsAt)};
	if (span.from >= endsAt) {
		throw new CannotError(`--from ${span.from}s is not in the recording: it ends at ${fixedText(endsAt, 1)} s.`);
	}

	if (span.from >= span.to) throw new CannotError('--from must be before --to: swap them, or leave one out.');
	return span;
}

async function readItems(source: Source, name: string, io: ShareIo): Promise<SourceItem[]> {
	const bar = new ProgressBar(io.stderr, `Reading ${escapeText(name)}`);
	const items: SourceItem[] = [];
	let received = 0;
	try {
		for await (const batch of source.batches()) {
			if (io.signal.aborted) break;
			for (const item of batch) {
				if ('bytes' in item) {
					// The reader uses its memory again.
					items.push({t: item.t, bytes: Buffer.from(item.bytes)});
					received += item.bytes.byteLength;
				} else items.push(item);
			}

			if (source.totalBytes) bar.show(Math.min(1, received / source.totalBytes));
		}
	} finally {
		bar.clear();
		await source.close();
	}

	return items;
}

async function writeCopy(
	output: string,
	source: SourceInfo,
	sheet: unknown,
	items: readonly SourceItem[],
	{span}: Choice,
	{force}: ShareOptions,
): Promise<void> {
	const writer = await RecordingWriter.create(output, {
		source,
		...(sheet === undefined ? {} : {sheet}),
		startedAt: noDate,
		...(force === undefined ? {} : {force}),
	});
	for (const item of cutItems(items, span)) writer.write(item);
	await writer.close(span.to - span.from);
	if (writer.error !== undefined) throw new CannotError(writer.error);
}

/** What anybody who gets the copy will find in it. */
async function readBack(output: string, io: ShareIo) {
	const {source, session} = await openNamedSource(output, {}, io);
	const items = await readItems(source, output, io);
	const settings = {baud: source.info.baud, ...session, timing: source.info.timing};
	return {findings: replayItems(items, settings, source.endedAt?.()), texts: receivedText(items)};
}
