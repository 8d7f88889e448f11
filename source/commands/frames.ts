import {createWriteStream} from 'node:fs';
import {open} from 'node:fs/promises';
import type {Writable} from 'node:stream';
import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {openNamedSource, type SourceOptions} from '../command-line/source-options.ts';
import type {ReadingScale} from '../frames/convert-readings.ts';
import {type FrameTaker, FrameTap} from '../frames/frame-tap.ts';
import type {FrameFormat, ValueKind} from '../frames/frame-words.ts';
import {FramesOut, type FramesOutOptions, type FramesSink} from '../frames/frames-out.ts';
import {leftBehind} from '../frames/left-behind.ts';
import {readTemplate} from '../frames/line-template.ts';
import {PartOfLog} from '../frames/part-of-log.ts';
import {SettledFrames} from '../frames/settled-frames.ts';
import {itemAt} from '../item-at.ts';
import {checkPlace} from '../recording/check-place.ts';
import {whyNotCreated, whyNotWritten} from '../recording/recording-errors.ts';
import {ProgressBar} from '../report/progress-bar.ts';
import {requireFrames} from '../report/require-frames.ts';
import {runSession, type SessionRun} from '../session/run-session.ts';
import {isPlainFile} from '../sources/open-source.ts';
import type {Source} from '../stream/source.ts';
import {escapeText} from '../text/escape-text.ts';
import {drained} from './drained.ts';
import type {FrameServer} from './frame-servers.ts';
import {loopback} from './listen.ts';
import {readAgain} from './read-again.ts';

export type FramesOptions = SourceOptions & {
	readonly source: string;
	readonly format?: FrameFormat;
	/** A template of a line, instead of a format. */
	readonly line?: string;
	readonly values?: ValueKind;
	/** Headings, comma separated. A number is the width of the terminal, which says nothing here. */
	readonly columns?: string | number;
	readonly resample?: number;
	readonly bits?: string;
	readonly stamp?: boolean;
	readonly output?: string;
	readonly force?: boolean;
	readonly listen?: number;
	readonly websocket?: number;
	readonly host?: string;
	readonly for?: number;
	readonly reattach?: boolean;
};

type FramesIo = Pick<CommandIo, 'stdin' | 'stdout' | 'stderr' | 'signal'>;

/** Text is handed on in pieces of this size where nobody waits for it. */
const pieceBytes = 64 * 1024;

/**
 * `frames SOURCE`: the readings as text for other programs, on standard output, in a file, or served to whoever connects.
 * Resolves to 0 where a frame was written, else to 1. Throws `CannotError` for options that do not go together or with the
 * source, and for what cannot be read, written or listened on.
 */
export async function framesCommand(options: FramesOptions, io: FramesIo): Promise<number> {
	checkTogether(options);
	const isFile = await isPlainFile(options.source);
	const serves = options.listen !== undefined || options.websocket !== undefined;
	if (isFile && serves)
		throw new CannotError(
			`--listen and --websocket serve what is live, and ${escapeText(options.source, 60)} is a file: leave them out, or pipe a stream in with -.`,
		);
	const format = options.line === undefined ? (options.format ?? 'csv') : readTemplate(options.line);
	if (options.output !== undefined) await checkPlace(options.output, options.force === true);
	const out: FramesOutOptions = {
		format,
		...(options.values !== undefined && {values: options.values}),
		...(options.bits !== undefined && {bits: Number(options.bits)}),
		...(typeof options.columns === 'string' && {columns: options.columns}),
		...(options.resample !== undefined && {resample: options.resample}),
		...(options.stamp !== undefined && {stamp: options.stamp}),
	};
	return isFile ? framesOfFile(options, out, io) : framesAsTheyCome(options, out, io);
}

function checkTogether(options: FramesOptions): void {
	const {format, line, stamp, host, listen, websocket, output} = options;
	if (line !== undefined && format !== undefined)
		throw new CannotError('--line and --format exclude each other: a template is a form of its own. Name one of them.');
	if (stamp && (line !== undefined || (format !== 'comma' && format !== 'labels')))
		throw new CannotError(
			'--stamp is for --format comma and labels: all others have a column for the time, and a template has {seconds}.',
		);
	if (host !== undefined && listen === undefined && websocket === undefined)
		throw new CannotError('--host says where to listen: give --listen or --websocket and a port with it.');
	if (listen !== undefined && listen !== 0 && listen === websocket)
		throw new CannotError(`--listen and --websocket cannot share port ${listen}: give each its own.`);
	if (output === '') throw new CannotError('-o names no file: give one, such as -o left.csv.');
}

/** A file is read twice: what it holds, and what its columns turn out to be, is known before the first line is written. */
async function framesOfFile(options: FramesOptions, out: FramesOutOptions, io: FramesIo): Promise<number> {
	const bar = new ProgressBar(io.stderr, `Reading ${escapeText(options.source, 40)}`);
	const first = await openNamedSource(options.source, options, io);
	const run = await runSession(first.source, {
		session: first.session,
		signal: io.signal,
		...(options.for !== undefined && {forSeconds: options.for}),
		...(options.session !== undefined && {part: options.session}),
		progress: share => bar.show(share / 2),
	});
	bar.clear();
	requireFrames(run);
	const {layoutNow} = run.session;
	if (layoutNow === null || run.snapshot.link.frames === 0) {
		io.stderr.write(`${escapeText(run.info.name)} had no frame in it. glovebench check says what else is in it.\n`);
		return 1;
	}

	const text = await openText(options, io);
	const sink: FramesSink = {head: piece => text.write(piece), row: piece => text.write(piece), tell: () => {}};
	const frames = new FramesOut(
		{
			...out,
			...(first.sheet !== undefined && {sheet: first.sheet}),
			scale: scaleOf(run),
			layout: layoutNow,
		},
		sink,
	);
	const tap = new FrameTap(frames, first.session.layout);
	const part = new PartOfLog(run.info, tap);
	const {source} = await openNamedSource(options.source, options, io);
	await readAgain(source, item => part.push(item), {
		...(options.for !== undefined && {until: options.for}),
		bar,
		async isOver() {
			if (text.isFull) await text.drained();
			return io.signal.aborted || text.isGone;
		},
	});
	tap.end();
	frames.end();
	bar.clear();
	await text.close();
	const {stderr} = io;
	stderr.write(`${written(frames.rows, tap)} of ${escapeText(run.info.name)}${partOf(run)}.\n`);
	for (const line of leftBehind(run.snapshot.findings, first.sheet !== undefined && options.sheet === undefined))
		stderr.write(`${line}\n`);
	return frames.rows > 0 ? 0 : 1;
}

/** What is live, or comes through a pipe: each frame is handed on as soon as it is there. */
async function framesAsTheyCome(options: FramesOptions, out: FramesOutOptions, io: FramesIo): Promise<number> {
	const {stderr} = io;
	const servers: Servers = {lines: [], messages: []};
	const {source, session, sheet} = await openNamedSource(options.source, options, io);
	const {fullScale} = session;
	const settings: FramesOutOptions = {
		...out,
		...(sheet !== undefined && {sheet}),
		...(fullScale !== undefined && fullScale !== null && {scale: {fullScale, lowOf: () => 0}}),
	};
	const tell = (line: string): void => void stderr.write(`${escapeText(line, 300)}\n`);
	try {
		await openServers(servers, options, stderr);
		const isServed = servers.lines.length + servers.messages.length > 0;
		// What is served is not printed besides, unless a file is named.
		const text = !isServed || options.output !== undefined ? await openText(options, io) : undefined;
		const writers = writersFor(settings, text, servers, tell);
		const settled = new SettledFrames(toAll(writers), session.layout !== undefined);
		const tap = new FrameTap(settled, session.layout);
		await passOn(source, tap, text, io, tell);
		tap.end();
		settled.end();
		for (const writer of writers) writer.end();
		await text?.close();
		const {rows} = itemAt(writers, 0);
		stderr.write(`${written(rows, tap)} of ${escapeText(source.info.name)}.\n`);
		if (rows === 0)
			stderr.write(
				'Nothing came that is a frame: glovebench check SOURCE says what else it may be, and what to measure.\n',
			);
		return rows > 0 ? 0 : 1;
	} finally {
		await source.close();
		await Promise.all([...servers.lines, ...servers.messages].map(server => server.close()));
	}
}

/** Who hands frames on to other programs: as lines, as messages. */
type Servers = {readonly lines: FrameServer[]; readonly messages: FrameServer[]};

/** Starts the servers that were asked for. Throws `CannotError` where a port cannot be had; those before it go on. */
async function openServers(
	servers: Servers,
	{listen, websocket, host = loopback}: FramesOptions,
	stderr: FramesIo['stderr'],
): Promise<void> {
	if (listen === undefined && websocket === undefined) return;
	const {serveLines, serveWebSocket} = await import('./frame-servers.ts');
	if (listen !== undefined) servers.lines.push(await serveLines(listen, host, stderr));
	if (websocket !== undefined) servers.messages.push(await serveWebSocket(websocket, host, stderr));
}

/** One writer for all who take the same text, and one for each who takes messages; the first of them tells. */
function writersFor(
	settings: FramesOutOptions,
	text: TextOut | undefined,
	{lines, messages}: Servers,
	tell: FramesSink['tell'],
): FramesOut[] {
	const writers: FramesOut[] = [];
	if (text !== undefined || lines.length > 0) {
		const head = (piece: string): void => {
			text?.write(piece);
			for (const server of lines) server.head(piece);
		};
		const row = (piece: string): void => {
			text?.write(piece);
			for (const server of lines) server.row(piece);
		};
		writers.push(new FramesOut(settings, {head, row, tell}));
	}

	for (const server of messages) {
		const silent = writers.length > 0 ? () => {} : tell;
		const sink: FramesSink = {head: () => {}, row: piece => server.row(piece), tell: silent};
		writers.push(new FramesOut({...settings, format: 'ndjson'}, sink));
	}

	return writers;
}

function toAll(writers: readonly FramesOut[]): FrameTaker {
	return {
		layout(t, layout, change) {
			for (const writer of writers) writer.layout(t, layout, change);
		},
		frame(t, values) {
			for (const writer of writers) writer.frame(t, values);
		},
	};
}

async function passOn(
	source: Source,
	tap: FrameTap,
	text: TextOut | undefined,
	{signal}: FramesIo,
	tell: (line: string) => void,
): Promise<void> {
	const stop = (): void => void source.close();
	signal.addEventListener('abort', stop, {once: true});
	if (signal.aborted) stop();
	try {
		for await (const batch of source.batches()) {
			for (const item of batch) {
				tap.push(item);
				if ('event' in item) tell(item.detail ?? item.event);
			}

			// Whoever waits for a live frame gets it now.
			text?.flush();
			if (text?.isFull) await text.drained();
			if (text?.isGone) return;
		}
	} finally {
		signal.removeEventListener('abort', stop);
	}
}

/** Full scale and lowest readings as the session found them out, or as they were declared. */
function scaleOf({session: {features}}: SessionRun): ReadingScale {
	const {scale} = features;
	return {fullScale: scale.fullScale, lowOf: ({index}) => scale.lowOf(features.placeOf[index] ?? -1)};
}

function written(rows: number, {frames, badLines, strayLines}: FrameTap): string {
	const lines = (count: number): string => `${count} ${count === 1 ? 'line' : 'lines'}`;
	const resampled = rows === frames ? `${rows} frames` : `${rows} rows from ${frames} frames`;
	const left = [
		...(badLines > 0 ? [`${badLines} damaged ${badLines === 1 ? 'line' : 'lines'}`] : []),
		...(strayLines > 0 ? [`${lines(strayLines)} of other text`] : []),
	];
	return left.length === 0 ? resampled : `${resampled} (left out: ${left.join(', ')})`;
}

function partOf({info}: SessionRun): string {
	const count = info.sessions?.length ?? 1;
	return count > 1 ? `, session ${info.part} of ${count} in it (--session names another)` : '';
}

/** Text on its way to standard output or into a file, in pieces. */
type TextOut = {
	write(text: string): void;
	/** Hands on what has gathered. */
	flush(): void;
	readonly isFull: boolean;
	/** Nobody reads it any more. */
	readonly isGone: boolean;
	drained(): Promise<void>;
	/** Throws `CannotError` where the file could not be written to its end. */
	close(): Promise<void>;
};

async function openText({output, force}: FramesOptions, {stdout, signal}: FramesIo): Promise<TextOut> {
	let failure: NodeJS.ErrnoException | undefined;
	let out: Writable = stdout;
	if (output !== undefined) {
		const file = await open(output, force ? 'w' : 'wx').catch((error: NodeJS.ErrnoException) => {
			throw new CannotError(whyNotCreated(output, error));
		});
		out = createWriteStream(output, {fd: file});
		out.on('error', error => {
			failure = error;
		});
	}

	let gathered = '';
	let isFull = false;
	const flush = (): void => {
		if (gathered === '' || out.destroyed) return;
		isFull = !out.write(gathered);
		gathered = '';
	};

	return {
		write(text) {
			gathered += text;
			if (gathered.length >= pieceBytes) flush();
		},
		flush,
		get isFull() {
			return isFull && !out.destroyed;
		},
		get isGone() {
			return out.destroyed || failure !== undefined;
		},
		async drained() {
			if (out.writableNeedDrain) await drained(out, signal);
			isFull = false;
		},
		async close() {
			flush();
			if (output === undefined) return;
			await new Promise<void>(resolve => {
				if (out.destroyed) resolve();
				else {
					out.once('close', () => resolve());
					out.end();
				}
			});
			if (failure !== undefined) throw new CannotError(`The table ${output} stops here: ${whyNotWritten(failure)}`);
		},
	};
}
