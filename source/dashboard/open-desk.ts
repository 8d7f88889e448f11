import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import type {NamedSource} from '../command-line/source-options.ts';
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
};

/** A desk of live gloves, reading already. Throws `CannotError` where a recording cannot be started. */
export async function openLiveDesk(gloves: readonly NamedSource[], options: LiveDeskOptions): Promise<Desk> {
	const stations = gloves.map(({source, session}): Station => {
		const live = new LiveGlove(source, {
			...session,
			timing: source.info.timing,
			baud: session.baud ?? source.info.baud,
		});
		const name = source.info.kind === 'stdin' && source.info.name === '-' ? 'standard input' : source.info.name;
		return {name, kind: source.info.kind, baud: live.session.options.baud ?? null, live};
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
		startRecording: glove => startRecordings[glove],
		recordingPath: glove => recordingName(new Date(), glove, stations.length),
	});
	try {
		if (options.record !== undefined) {
			for (const index of stations.keys()) await desk.startRecording(index, numberedPath(options.record, index));
		}
	} catch (error) {
		await desk.close();
		throw error;
	}

	for (const {live} of stations) void live!.run();
	return desk;
}

/** A desk of recordings, read whole into memory. */
export async function openReplayDesk(
	gloves: readonly NamedSource[],
	options: Pick<DeskOptions, 'held' | 'speed' | 'page'> & {
		/** Stream seconds to begin at. */
		readonly at?: number;
	},
	signal: AbortSignal,
): Promise<Desk> {
	const stations: Station[] = [];
	for (const {source, session} of gloves) {
		const tape = new ItemTape();
		for await (const batch of source.batches()) {
			signal.throwIfAborted();
			for (const item of batch) tape.push(item);
		}

		// Silence up to the recording's end is part of it.
		const endedAt = source.endedAt?.();
		if (endedAt !== undefined) tape.push({t: endedAt, bytes: new Uint8Array(0)});
		await source.close();
		if (!tape.hasBytes) {
			throw new CannotError(
				`${source.info.name} holds nothing that was received: there is nothing to replay. Was it recorded from the right port?`,
			);
		}

		const {name, kind, timing, baud} = source.info;
		const player = new ReplayPlayer(tape, {...session, timing, baud: session.baud ?? baud});
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

/** The path as given for the first glove; for the second, `-2` before the extension. */
export function numberedPath(path: string, glove: number): string {
	return glove === 0 ? path : path.replace(/(\.gbr(?:ec)?(?:\.gz)?)?$/i, `-${glove + 1}$1`);
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
