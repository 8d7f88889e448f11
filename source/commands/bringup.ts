import {access, writeFile} from 'node:fs/promises';
import {asciiText} from '../ascii-text.ts';
import {asBuiltNotes} from '../bringup/as-built-notes.ts';
import {bringUpText, transcriptText} from '../bringup/bring-up-text.ts';
import {progressPath, readProgress, removeProgress, writeProgress} from '../bringup/progress-file.ts';
import {type BringUpRun, markPrefix, runBringUp} from '../bringup/run-bring-up.ts';
import {promptOf} from '../bringup/steps.ts';
import type {BringUpMessage} from '../bringup/view/keys.ts';
import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {openNamedSource, type SourceOptions} from '../command-line/source-options.ts';
import {escapeText} from '../escape-text.ts';
import {cordCaution} from '../faults/cautions.ts';
import {checkPlace} from '../recording/check-place.ts';
import {RecordingWriter} from '../recording/recording-writer.ts';
import {writeSheet} from '../sheet/write-sheet.ts';
import type {Source, SourceItem} from '../sources/source.ts';

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

const redrawMs = 100;

/**
 * `bringup PORT`: the guided acceptance routine; on a recording, what it would have said. Status 0 where everything
 * passed, 1 where something failed or is still open. Throws `CannotError` for what cannot be read or written.
 */
export async function bringUpCommand(options: BringUpCommandOptions, io: CommandIo): Promise<number> {
	if (options.record !== undefined) await checkPlace(options.record, options.force === true);
	const {source, session, sheet} = await openNamedSource(options.port, options, io);
	const isLive = source.info.kind === 'serial' || source.info.kind === 'tcp';
	const output = options.output ?? (isLive ? asBuiltPath(options.sheet) : undefined);
	const stop = new AbortController();
	let view: Awaited<ReturnType<typeof openView>> | undefined;
	let writer: RecordingWriter | undefined;
	try {
		if (output !== undefined && !options.force) await refuseToReplace(output);
		const progress = output === undefined || !isLive ? undefined : progressPath(output);
		const earlier = progress === undefined || options.fresh ? undefined : await readProgress(progress);
		writer =
			options.record === undefined
				? undefined
				: await RecordingWriter.create(options.record, {source: source.info, force: options.force === true});
		const recorded = {lastT: 0};
		const teed = writer ? tee(source, writer, recorded) : source;
		if (isLive && io.stdin.isTTY && io.stdout.isTTY) view = await openView(io, options, source);
		else if (isLive) io.stderr.write(`${cordCaution}\n`);
		let saving = Promise.resolve();
		let saveError: Error | undefined;
		const run = await runBringUp(teed, {
			session,
			sheet,
			isPrompted: isLive,
			earlier,
			signal: AbortSignal.any([io.signal, stop.signal]),
			onEvent: (event, bringUp) => {
				if (event.kind === 'step') {
					// What came in the meantime is written already, and times must not fall.
					writer?.write({t: Math.max(event.t, recorded.lastT), mark: `${markPrefix}${event.step.id}`});
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
		if (saveError) io.stderr.write(`What was done cannot be kept for later: ${saveError.message}.\n`);
		await writer?.close(source.now?.());
		if (writer?.error) io.stderr.write(`${writer.error}\n`);
		const lost = run.snapshot.events.findLast(({event}) => event === 'port-lost');
		const status = await report(run, options, io, output, progress).finally(() => {
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

async function report(
	run: BringUpRun,
	options: BringUpCommandOptions,
	{stdout, stderr}: CommandIo,
	output: string | undefined,
	progress: string | undefined,
): Promise<number> {
	const {result, bringUp, info} = run;
	if (result === undefined || bringUp === undefined) {
		throw new CannotError(
			`${info.name} had no frame in it: there is nothing to bring up. glovebench check ${info.name} tells what arrives.`,
		);
	}

	if (options.html !== undefined) {
		const {writePage} = await import('../report/write-page.ts');
		const {bringUpPage} = await import('../report/html/bring-up-page.ts');
		await writePage(options.html, bringUpPage({...run, result, bringUp}));
	}

	if (options.json) {
		const {bringUpJson} = await import('../bringup/bring-up-json.ts');
		const {terminalSafeJson} = await import('../report/check-json.ts');
		stdout.write(`${terminalSafeJson(bringUpJson(result, info), 2)}\n`);
	} else {
		const transcript = transcriptText(result, bringUp.steps, bringUp.features.layout.channels);
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
		stderr.write(`The sheet as built is in ${output}.\n`);
	} else if (output === undefined && !options.json) stderr.write('-o FILE writes the sheet as built.\n');

	if (progress !== undefined) {
		if (isComplete) await removeProgress(progress);
		else if (result.records.length > 0)
			stderr.write('Broken off: the same command goes on from here, --fresh begins anew.\n');
	}

	return result.verdict === 'pass' ? 0 : 1;
}

/** A source that keeps what it delivers. */
function tee(source: Source, writer: RecordingWriter, recorded: {lastT: number}): Source {
	return {
		...source,
		info: source.info,
		...(source.now && {now: () => source.now!()}),
		close: () => source.close(),
		async *batches(): AsyncGenerator<readonly SourceItem[]> {
			for await (const batch of source.batches()) {
				for (const item of batch) {
					writer.write(item);
					recorded.lastT = item.t;
				}

				yield batch;
			}
		},
	};
}

/** The screen, drawn at a calm rate, and the keys pressed on it. */
async function openView(io: CommandIo, options: BringUpCommandOptions, source: Source) {
	const {openBringUpView} = await import('../bringup/view/open-view.tsx');
	const {screenState} = await import('../bringup/view/screen-state.ts');
	const pressed: BringUpMessage[] = [];
	let isInterrupted = false;
	let state = screenState(source.info.name, undefined, undefined);
	let isOpen = true;
	const view = openBringUpView(io, options.color === true, message => {
		if (message === 'interrupt') isInterrupted = true;
		pressed.push(message);
		// Before the first frame nothing else would notice.
		if (message === 'quit' || message === 'interrupt') void source.close();
	});
	const timer = setInterval(() => view.draw(state), redrawMs);
	view.draw(state);
	return {
		take: () => pressed.shift(),
		show: (...[session, bringUp]: [Parameters<typeof screenState>[1], Parameters<typeof screenState>[2]]) => {
			state = screenState(source.info.name, session, bringUp);
		},
		wasInterrupted: () => isInterrupted,
		close: () => {
			if (!isOpen) return;
			isOpen = false;
			clearInterval(timer);
			try {
				view.draw(state);
			} finally {
				view.close();
			}
		},
	};
}

function asBuiltPath(sheet: string | undefined): string {
	return sheet === undefined ? 'as-built.toml' : `${sheet.replace(/\.toml$/i, '')}-as-built.toml`;
}

async function refuseToReplace(path: string): Promise<void> {
	const isThere = await access(path).then(
		() => true,
		() => false,
	);
	if (isThere)
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
