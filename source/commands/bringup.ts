import {writeFile} from 'node:fs/promises';
import {asBuiltNotes} from '../bringup/as-built-notes.ts';
import type {BringUp} from '../bringup/bring-up.ts';
import {bringUpText, transcriptText} from '../bringup/bring-up-text.ts';
import {requireResult} from '../bringup/finished-bring-up.ts';
import {LiveGuide} from '../bringup/live-guide.ts';
import {progressPath, readProgress, removeProgress, writeProgress} from '../bringup/progress-file.ts';
import {recordedSource} from '../bringup/recorded-source.ts';
import {type BringUpRun, finishBringUp, runBringUp} from '../bringup/run-bring-up.ts';
import {promptOf} from '../bringup/steps.ts';
import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {type NamedSource, openNamedSource, type SourceOptions} from '../command-line/source-options.ts';
import type {ShowOptions} from '../dashboard/show-desk.ts';
import {cordCaution} from '../faults/cautions.ts';
import {stepMarkPrefix} from '../fit/gather-watch.ts';
import {isThere} from '../is-there.ts';
import {itemAt} from '../item-at.ts';
import {checkPlace} from '../recording/check-place.ts';
import {RecordingWriter} from '../recording/recording-writer.ts';
import {writeSheet} from '../sheet/write-sheet.ts';
import {isPlainFile} from '../sources/open-source.ts';
import {asciiText} from '../text/ascii-text.ts';
import {escapeText} from '../text/escape-text.ts';

export type BringUpCommandOptions = SourceOptions &
	ShowOptions & {
		/** The port, or a recording of somebody doing the routine. */
		readonly port: string;
		/** The as-built sheet. Default for a port: the sheet's name with `-as-built`, or `as-built.toml`. */
		readonly output?: string;
		/** Replaces an as-built sheet that is there. */
		readonly force?: boolean;
		/** Begins anew, though a routine that was broken off could go on. */
		readonly fresh?: boolean;
		/** Keeps everything received, and what was asked when. */
		readonly record?: string;
		/** Writes the pass/fail record as a page to this file, besides. */
		readonly html?: string;
		readonly json?: boolean;
		/** Width of text, 60 to 120 columns; 80 where left out. */
		readonly columns?: number;
		/** Distance of the marks of a ruler that each cord is also pulled along, such as `5mm`. */
		readonly ruler?: string;
		/** Begins with bells on. */
		readonly bell?: boolean;
	};

/**
 * `bringup PORT`: the guided acceptance routine; on a recording, what it would have said. Status 0 where everything
 * passed, 1 where something failed or is still open. Throws `CannotError` for what cannot be read or written.
 */
export async function bringUpCommand(options: BringUpCommandOptions, io: CommandIo): Promise<number> {
	rulerOf(options.ruler);
	if (options.record !== undefined) await checkPlace(options.record, options.force === true);
	const isLive = options.port !== '-' && !(await isPlainFile(options.port));
	const output = options.output ?? (isLive ? asBuiltPath(options.sheet) : undefined);
	if (output !== undefined && !options.force) await refuseToReplace(output);
	const progress = output === undefined || !isLive ? undefined : progressPath(output);
	const earlier = progress === undefined || options.fresh ? undefined : await readProgress(progress);
	const files = {output, progress, earlier};
	const onScreen = isLive && io.stdin.isTTY === true && io.stdout.isTTY === true;
	const source = await openNamedSource(options.port, {...options, reattach: isLive}, io);
	try {
		return onScreen ? await onBenchPage(source, files, options, io) : await inLines(source, files, isLive, options, io);
	} finally {
		await source.source.close();
	}
}

/** Millimetres from mark to mark. Throws `CannotError` for what is no length that a cord could be pulled by. */
function rulerOf(text: string | undefined): number | undefined {
	if (text === undefined) return undefined;
	const found = /^(\d+(?:\.\d+)?)\s*(mm|cm)?$/.exec(text.trim());
	const mm = found === null ? Number.NaN : Number(found[1]) * (found[2] === 'cm' ? 10 : 1);
	if (mm >= 1 && mm <= 100) return mm;
	throw new CannotError(
		`--ruler must not be "${escapeText(text, 20)}": it takes the distance of the marks, from 1mm to 100mm, such as 5mm.`,
	);
}

/** Where the routine's results go, and what was done before. */
type Files = {
	readonly output: string | undefined;
	readonly progress: string | undefined;
	readonly earlier: Awaited<ReturnType<typeof readProgress>>;
};

/** Somebody in front of a screen: the bench page, led by the routine. */
async function onBenchPage(
	opened: NamedSource,
	files: Files,
	options: BringUpCommandOptions,
	io: CommandIo,
): Promise<number> {
	const [{openLiveDesk}, {showDesk}] = await Promise.all([
		import('../dashboard/open-desk.ts'),
		import('../dashboard/show-desk.ts'),
	]);
	const keeper = new ProgressKeeper(files.progress);
	const rulerMm = rulerOf(options.ruler);
	const guide = new LiveGuide({
		earlier: files.earlier,
		rulerMm,
		onEvent(event, bringUp) {
			if (event.kind === 'step') live.note(event.t, `${stepMarkPrefix}${event.step.id}`);
			else if (event.kind === 'end') keeper.keep(bringUp);
		},
	});
	const desk = await openLiveDesk([opened], {...options, page: 'bench', guide});
	const live = itemAt(desk.stations, 0).live!;
	const status = await showDesk(desk, options, io);
	await keeper.settle(io);
	const {session, sample} = live;
	const run = {session, sample, snapshot: session.snapshot(), info: opened.source.info};
	const finished = finishBringUp(run, guide.routine, opened.sheet, true, rulerMm);
	const outcome = await report(finished, options, io, files);
	return status === 0 ? outcome : status;
}

/** Prompts on standard error, or a recording of somebody doing the routine. */
async function inLines(
	{source, session, sheet}: NamedSource,
	files: Files,
	isLive: boolean,
	options: BringUpCommandOptions,
	io: CommandIo,
): Promise<number> {
	const stop = new AbortController();
	const signal = AbortSignal.any([io.signal, stop.signal]);
	const keeper = new ProgressKeeper(files.progress);
	const writer =
		options.record === undefined
			? undefined
			: await RecordingWriter.create(options.record, {
					source: {...source.info, baud: session.baud ?? source.info.baud},
					sheet,
					force: options.force === true,
				});
	try {
		const recorded = writer && recordedSource(source, writer);
		const tell = (text: string) => {
			if (isLive) io.stderr.write(`${text}\n`);
		};
		tell(cordCaution);
		const run = await runBringUp(recorded?.source ?? source, {
			session,
			sheet,
			isPrompted: isLive,
			rulerMm: rulerOf(options.ruler),
			earlier: files.earlier,
			signal,
			onEvent: (event, bringUp) => {
				if (event.kind === 'step') {
					recorded?.mark(event.t, `${stepMarkPrefix}${event.step.id}`);
					tell(promptOf(event.step));
				} else if (event.kind === 'hint') tell(event.text);
				else keeper.keep(bringUp);
			},
			watch: bringUp => {
				if (isLive && bringUp.isOver) stop.abort();
			},
		});
		await keeper.settle(io);
		await writer?.close(source.now?.());
		if (writer) io.stderr.write(`${escapeText(writer.error ?? `Recorded to ${writer.path}.`)}\n`);
		return await report(run, options, io, files);
	} finally {
		await writer?.close(source.now?.());
	}
}

/** Keeps the steps that are done, one write after the other; a full disk must not end the routine, only going on later. */
class ProgressKeeper {
	readonly #path: string | undefined;
	#saving = Promise.resolve();
	#error: Error | undefined;

	constructor(path: string | undefined) {
		this.#path = path;
	}

	keep(bringUp: BringUp): void {
		const path = this.#path;
		if (path === undefined) return;
		const columns = bringUp.features.layout.channels.map(({name}) => name);
		const records = [...bringUp.records];
		this.#saving = this.#saving
			.then(() => writeProgress(path, columns, records))
			.catch((error: Error) => {
				this.#error ??= error;
			});
	}

	/** Waits for what is being written, and says where it could not be. */
	async settle({stderr}: CommandIo): Promise<void> {
		await this.#saving;
		if (this.#error) stderr.write(`What was done cannot be kept for later: ${escapeText(this.#error.message)}.\n`);
	}
}

async function report(
	run: BringUpRun,
	options: BringUpCommandOptions,
	{stdout, stderr}: CommandIo,
	{output, progress, earlier}: Files,
): Promise<number> {
	const finished = requireResult(run);
	const {result, bringUp, info} = finished;
	if (options.html !== undefined) {
		const {writePage} = await import('../report/write-page.ts');
		const {bringUpPage} = await import('../report/html/bring-up-page.ts');
		await writePage(options.html, bringUpPage(finished));
	}

	if (options.json) {
		const {bringUpJson} = await import('../bringup/bring-up-json.ts');
		const {terminalSafeJson} = await import('../report/check-json.ts');
		stdout.write(`${terminalSafeJson(bringUpJson(result, info), 2)}\n`);
	} else {
		const {layout} = bringUp.features;
		const transcript = transcriptText(result, bringUp.steps, layout.channels, earlier?.records, options.columns);
		const text = `${transcript}\n${bringUpText(result, info.name, options.columns)}`;
		stdout.write(options.ascii ? asciiText(text) : text);
	}

	const isComplete = result.missing.length === 0;
	if (output !== undefined && (isComplete || progress === undefined)) {
		const day = (info.startedAt ?? new Date().toISOString()).slice(0, 10);
		await writeText(
			output,
			writeSheet(result.asBuilt, [`As built: measured by glovebench bringup on ${day}.`, ...asBuiltNotes(result)]),
		);
		stderr.write(`The sheet as built is in ${escapeText(output)}.\n`);
	} else if (output === undefined && !options.json) stderr.write('-o FILE writes the sheet as built.\n');

	if (progress !== undefined) {
		if (isComplete) await removeProgress(progress);
		else if (result.records.length > 0)
			stderr.write('Broken off: the same command goes on from here, --fresh begins anew.\n');
	}

	return result.verdict === 'pass' ? 0 : 1;
}

function asBuiltPath(sheet: string | undefined): string {
	return sheet === undefined ? 'as-built.toml' : `${sheet.replace(/\.toml$/i, '')}-as-built.toml`;
}

async function refuseToReplace(path: string): Promise<void> {
	if (await isThere(path))
		throw new CannotError(
			`${escapeText(path)} is there already: name another file with -o, or give --force to replace it.`,
		);
}

async function writeText(path: string, text: string): Promise<void> {
	try {
		await writeFile(path, text);
	} catch (error) {
		throw new CannotError(`Cannot write ${path}: ${(error as Error).message}. Name another place with -o.`);
	}
}
