import type {Guide} from '../bringup/guide.ts';
import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import type {NamedSource} from '../command-line/source-options.ts';
import {itemAt} from '../item-at.ts';
import {numberedPath} from '../recording/numbered-path.ts';
import {requireFrames} from '../report/require-frames.ts';
import {Session} from '../session/session.ts';
import type {SessionOptions} from '../session/session-options.ts';
import type {Source, SourceInfo} from '../stream/source.ts';
import type {SourceItem} from '../stream/source-item.ts';
import {Desk, type DeskOptions} from './desk.ts';
import type {Station} from './glove-view.ts';
import {ItemTape} from './item-tape.ts';
import {LiveGlove, type StartRecording} from './live-glove.ts';
import {ReplayPlayer} from './replay-player.ts';
import type {Page} from './view-state.ts';

export type LiveDeskOptions = {
	readonly bell?: boolean;
	readonly page?: Page;
	/** Record from the first byte on. */
	readonly record?: string;
	/** Write over files that are there. */
	readonly force?: boolean;
	/** Leads the bench page of the first glove. */
	readonly guide?: Guide;
	/** What to try next, said on leaving. */
	readonly tryNext?: string;
};

/** A desk of live gloves, reading already. Throws `CannotError` where a recording cannot be started. */
export async function openLiveDesk(gloves: readonly NamedSource[], options: LiveDeskOptions): Promise<Desk> {
	const stations = gloves.map(({source, session}, index): Station => {
		const guide = index === 0 ? options.guide : undefined;
		const declared = {...session, timing: source.info.timing, baud: session.baud ?? source.info.baud};
		const live = new LiveGlove(source, declared, guide);
		const name = source.info.kind === 'stdin' && source.info.name === '-' ? 'standard input' : source.info.name;
		return {name, kind: source.info.kind, baud: live.session.options.baud ?? null, live, ...(guide && {guide})};
	});
	const startRecordings = gloves.map(
		({source, session, sheet}): StartRecording =>
			async (path, onError) => {
				const {RecordingWriter} = await import('../recording/recording-writer.ts');
				return RecordingWriter.create(path, {
					source: {...source.info, baud: session.baud ?? source.info.baud},
					...(sheet !== undefined && {sheet}),
					...(options.force !== undefined && {force: options.force}),
					onError,
					onNotice: line => desk.say(line),
				});
			},
	);
	const desk: Desk = new Desk(stations, {
		mode: 'live',
		...(options.bell !== undefined && {bell: options.bell}),
		...(options.page !== undefined && {page: options.page}),
		...(options.tryNext !== undefined && {tryNext: options.tryNext}),
		isQuiet: options.guide !== undefined,
		startRecording: glove => itemAt(startRecordings, glove),
		recordingPath: glove => recordingName(new Date(), glove, stations.length),
	});
	try {
		if (options.record !== undefined) {
			for (const index of stations.keys()) await desk.startRecording(index, numberedPath(options.record, index + 1));
		}
	} catch (error) {
		await desk.close();
		throw error;
	}

	for (const {live} of stations) void live!.run();
	return desk;
}

/** Looks for the first frame in what is read, so that a file without one is not played in silence. */
class FirstFrame {
	#session: Session | undefined;
	readonly #sample: Uint8Array[] = [];
	#sampled = 0;

	constructor(declared: SessionOptions) {
		this.#session = new Session(declared);
	}

	push(item: SourceItem): void {
		if (this.#session === undefined) return;
		this.#session.push(item);
		if ('bytes' in item && this.#sampled < sampleBytes) {
			this.#sample.push(item.bytes.slice());
			this.#sampled += item.bytes.length;
		}

		if (this.#session.link.frames > 0) this.#session = undefined;
	}

	/** Throws `CannotError` where no frame came and nothing says why: the same line as `check`. */
	require(info: SourceInfo): void {
		const session = this.#session;
		if (session === undefined) return;
		session.end();
		requireFrames({session, snapshot: session.snapshot(), info, sample: Buffer.concat(this.#sample)});
	}
}

const sampleBytes = 4096;

/** A desk of recordings, read whole into memory. */
export async function openReplayDesk(
	gloves: readonly NamedSource[],
	options: Pick<DeskOptions, 'held' | 'speed' | 'page'> & {
		/** Stream seconds to begin at. */
		readonly at?: number;
		/** Which of the sessions that a log holds, from 1. Default: the last. */
		readonly part?: number;
	},
	signal: AbortSignal,
): Promise<Desk> {
	const stations: Station[] = [];
	for (const {source, session} of gloves) {
		const {name, kind, timing, baud} = source.info;
		const declared = {...session, timing, baud: session.baud ?? baud};
		const player = new ReplayPlayer(await readTape(source, declared, options.part, signal), declared);
		if (options.at !== undefined) player.seek(options.at);
		stations.push({name, kind, baud: session.baud ?? baud, player});
	}

	return new Desk(stations, {
		mode: 'replay',
		...(options.held !== undefined && {held: options.held}),
		...(options.speed !== undefined && {speed: options.speed}),
		...(options.page !== undefined && {page: options.page}),
		startRecording: () => () => Promise.reject(new CannotError('A replay is not recorded again.')),
		recordingPath: () => '',
	});
}

/** `glove-2026-03-08-142530.gbrec` in the current folder, from local time; with two gloves, numbered. */
export function recordingName(time: Date, glove: number, gloves: number): string {
	const pad = (value: number) => String(value).padStart(2, '0');
	const day = `${time.getFullYear()}-${pad(time.getMonth() + 1)}-${pad(time.getDate())}`;
	const clock = pad(time.getHours()) + pad(time.getMinutes()) + pad(time.getSeconds());
	return `glove-${gloves > 1 ? `${glove + 1}-` : ''}${day}-${clock}.gbrec`;
}

/** Where keys can be read: standard input, or the terminal itself while standard input is the glove's data. */
export async function openKeys(stdin: CommandIo['stdin']): Promise<CommandIo['stdin'] | null> {
	if (stdin.isTTY) return stdin;
	try {
		const [{openSync}, {ReadStream}] = await Promise.all([import('node:fs'), import('node:tty')]);
		return new ReadStream(openSync('/dev/tty', 'r'));
	} catch {
		return null;
	}
}

/** The sessions of a source one after the other, each on a tape of its own; the one that was asked for, else the last, stays. */
class SessionTapes {
	tape = new ItemTape();
	first: FirstFrame;
	/** Which session is being read, from 1. */
	part = 1;
	#from = 0;
	readonly #declared: SessionOptions;
	readonly #wanted: number | undefined;

	constructor(declared: SessionOptions, wanted: number | undefined) {
		this.first = new FirstFrame(declared);
		this.#declared = declared;
		this.#wanted = wanted;
	}

	push(item: SourceItem): void {
		const isEnd = 'event' in item && item.event === 'session' && this.tape.hasBytes;
		if (this.#wanted !== undefined && this.part > this.#wanted) return;
		if (isEnd) this.#next(item.t);
		else {
			const own = this.#from === 0 ? item : {...item, t: Math.max(0, Math.round((item.t - this.#from) * 1e6) / 1e6)};
			this.tape.push(own);
			this.first.push(own);
		}
	}

	#next(t: number): void {
		this.part++;
		if (this.#wanted !== undefined && this.part > this.#wanted) return;
		this.tape = new ItemTape();
		this.first = new FirstFrame(this.#declared);
		this.#from = t;
	}
}

/** Reads a source whole and closes it. Throws `CannotError` where there is no such session in it, or nothing to play. */
async function readTape(
	source: Source,
	declared: SessionOptions,
	wanted: number | undefined,
	signal: AbortSignal,
): Promise<ItemTape> {
	const {name} = source.info;
	const sessions = new SessionTapes(declared, wanted);
	for await (const batch of source.batches()) {
		signal.throwIfAborted();
		for (const item of batch) sessions.push(item);
	}

	// Silence up to the recording's end is part of it.
	const endedAt = source.endedAt?.();
	await source.close();
	const {tape, first, part} = sessions;
	if (wanted !== undefined && part < wanted) {
		throw new CannotError(
			`--session ${wanted}: ${name} holds ${part === 1 ? 'one session' : `${part} sessions`}. Leave it out for the last.`,
		);
	}

	if (endedAt !== undefined) tape.push({t: endedAt, bytes: new Uint8Array(0)});
	if (!tape.hasBytes) {
		throw new CannotError(
			`${name} holds nothing that was received: there is nothing to replay. Was it recorded from the right port?`,
		);
	}

	first.require(source.info);
	return tape;
}
