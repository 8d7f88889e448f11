import {writeFile} from 'node:fs/promises';
import {asBuiltNotes} from '../bringup/as-built-notes.ts';
import {bringUpText, transcriptText} from '../bringup/bring-up-text.ts';
import {requireResult} from '../bringup/finished-bring-up.ts';
import {progressPath, readProgress, removeProgress, writeProgress} from '../bringup/progress-file.ts';
import {recordedSource} from '../bringup/recorded-source.ts';
import {type BringUpRun, markPrefix, runBringUp} from '../bringup/run-bring-up.ts';
import type {StepRecord} from '../bringup/step-record.ts';
import {promptOf} from '../bringup/steps.ts';
import type {GuideScreen} from '../bringup/view/guide-screen.ts';
import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {openNamedSource, type SourceOptions} from '../command-line/source-options.ts';
import {cordCaution} from '../faults/cautions.ts';
import {isThere} from '../is-there.ts';
import {checkPlace} from '../recording/check-place.ts';
import {RecordingWriter} from '../recording/recording-writer.ts';
import {writeSheet} from '../sheet/write-sheet.ts';
import {isPlainFile} from '../sources/open-source.ts';
import {asciiText} from '../text/ascii-text.ts';
import {escapeText} from '../text/escape-text.ts';

export type BringUpCommandOptions = SourceOptions & {
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
	readonly color?: boolean;
	readonly ascii?: boolean;
};

/** Exit status after Ctrl-C: 128 and the signal's number, as shells report it. */
const interrupted = 130;

/**
 * `bringup PORT`: the guided acceptance routine; on a recording, what it would have said. Status 0 where everything
 * passed, 1 where something failed or is still open. Throws `CannotError` for what cannot be read or written.
 */
export async function bringUpCommand(options: BringUpCommandOptions, io: CommandIo): Promise<number> {
	if (options.record !== undefined) await checkPlace(options.record, options.force === true);
	const isLive = options.port !== '-' && !(await isPlainFile(options.port));
	const output = options.output ?? (isLive ? asBuiltPath(options.sheet) : undefined);
	if (output !== undefined && !options.force) await refuseToReplace(output);
	const stop = new AbortController();
	const signal = AbortSignal.any([io.signal, stop.signal]);
	// It draws before frames come: what it takes to load and to warm up would make them seem to come in clumps.
	// A terminal that can't place the cursor gets the prompts line by line, like none at all.
	const canDraw = io.stdin.isTTY && io.stdout.isTTY && process.env.TERM !== 'dumb';
	const view = isLive && canDraw ? await openScreen(options, io, stop) : undefined;
	const opened = await openNamedSource(options.port, options, {...io, signal}).catch((error: Error) => {
		view?.dismiss();
		if (stop.signal.aborted) return undefined;
		throw error;
	});
	if (opened === undefined) return view?.wasInterrupted() ? interrupted : 1;
	const {source, session, sheet} = opened;
	let writer: RecordingWriter | undefined;
	try {
		const progress = output === undefined || !isLive ? undefined : progressPath(output);
		const earlier = progress === undefined || options.fresh ? undefined : await readProgress(progress);
		writer =
			options.record === undefined
				? undefined
				: await RecordingWriter.create(options.record, {
						source: {...source.info, baud: session.baud ?? source.info.baud},
						sheet,
						force: options.force === true,
					});
		const recorded = writer && recordedSource(source, writer);
		if (isLive && !view) io.stderr.write(`${cordCaution}\n`);
		let saving = Promise.resolve();
		let saveError: Error | undefined;
		const run = await runBringUp(recorded?.source ?? source, {
			session,
			sheet,
			isPrompted: isLive,
			earlier,
			signal,
			onEvent: (event, bringUp) => {
				if (event.kind === 'step') {
					recorded?.mark(event.t, `${markPrefix}${event.step.id}`);
					if (isLive && !view) io.stderr.write(`${promptOf(event.step)}\n`);
				} else if (event.kind === 'hint' && isLive && !view) io.stderr.write(`${event.text}\n`);
				else if (event.kind === 'end' && progress !== undefined) {
					const columns = bringUp.features.layout.channels.map(({name}) => name);
					const records = [...bringUp.records];
					// One after the other; a full disk must not end the routine, only going on later.
					saving = saving
						.then(() => writeProgress(progress, columns, records))
						.catch((error: Error) => {
							saveError ??= error;
						});
				}
			},
			waiting: running => view?.show(running, undefined),
			watch: (bringUp, running) => {
				const message = view?.take();
				if (message === 'skip') bringUp.skip();
				else if (message === 'repeat') bringUp.repeat();
				else if (message) stop.abort();
				view?.show(running, bringUp);
				if (isLive && bringUp.isOver) stop.abort();
			},
		});
		view?.close();
		await saving;
		if (saveError) io.stderr.write(`What was done cannot be kept for later: ${escapeText(saveError.message)}.\n`);
		await writer?.close(source.now?.());
		if (writer) io.stderr.write(`${escapeText(writer.error ?? `Recorded to ${writer.path}.`)}\n`);
		const lost = run.snapshot.events.findLast(({event}) => event === 'port-lost');
		const status = await report(run, options, io, {output, progress, earlier: earlier?.records}).finally(() => {
			// After all the rest: it is why the rest is short.
			if (isLive && lost) io.stderr.write(`${escapeText(lost.detail ?? 'The port has gone.', 400)}\n`);
		});
		return view?.wasInterrupted() ? interrupted : status;
	} finally {
		// Whatever fails in drawing for the last time, the recording gets its end.
		try {
			view?.close();
		} finally {
			await source.close();
			await writer?.close(source.now?.());
		}
	}
}

async function openScreen(options: BringUpCommandOptions, io: CommandIo, stop: AbortController): Promise<GuideScreen> {
	const {openGuideScreen} = await import('../bringup/view/guide-screen.ts');
	return openGuideScreen(io, options.color === true, options.port, () => stop.abort());
}

async function report(
	run: BringUpRun,
	options: BringUpCommandOptions,
	{stdout, stderr}: CommandIo,
	{output, progress, earlier}: {output?: string; progress?: string; earlier?: readonly StepRecord[]},
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
		const transcript = transcriptText(result, bringUp.steps, bringUp.features.layout.channels, earlier);
		const text = `${transcript}\n${bringUpText(result, info.name)}`;
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
