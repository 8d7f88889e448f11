import {CannotError} from '../cannot-error.ts';
import type {CommandIo, Output} from '../command-line/command-io.ts';
import {type NamedSource, openNamedSource} from '../command-line/source-options.ts';
import {checkPlace} from '../recording/check-place.ts';
import {type RotatingOptions, RotatingRecording} from '../recording/rotating-recording.ts';
import type {Source} from '../stream/source.ts';
import type {SourceItem} from '../stream/source-item.ts';
import {escapeText} from '../text/escape-text.ts';
import {listText} from '../text/list-text.ts';
import {bytesText, measureText} from '../text/number-text.ts';

export type RecordOptions = {
	/** The port, or any other source. */
	readonly port: string;
	/** The recording to write. */
	readonly output?: string;
	/** Seconds to record; without it until stopped or the port goes. A port that goes is taken up again until then. */
	readonly for?: number;
	/** Kept in the header. */
	readonly note?: string;
	/** Write over a file that is there. */
	readonly force?: boolean;
	/** False: open the port without the DTR pulse. */
	readonly reset?: boolean;
	readonly baud?: number | 'auto';
	/** Path of a sheet; it is kept in the header. */
	readonly sheet?: string;
	/** After the port is lost, wait for it to come back. */
	readonly reattach?: boolean;
	/** Lines per second of a log without times. */
	readonly rate?: number;
	/** Seconds to a file: FILE, FILE-2 and so on, each a whole recording. */
	readonly rotate?: number;
};

type RecordIo = Pick<CommandIo, 'signal'> & {
	readonly stdin?: CommandIo['stdin'];
	readonly stderr: Pick<Output, 'write' | 'isTTY'>;
};

const showEveryMs = 1000;

/** What a log's or a timer's grain takes of a time that was reached. */
const toleranceSeconds = 0.1;

/** Silence from the start that is worth a word while there is still time to do something. */
const silentAfterSeconds = 3;

/**
 * `record PORT -o FILE`: keeps everything that arrives until stopped, for a time, or until the port goes. The file ends
 * in order in each of these cases.
 *
 * @returns 0 when something was recorded, 1 when nothing at all arrived, or less than the time that was asked for.
 * @throws CannotError for a port or file that cannot be opened, and when the disk failed on the way.
 */
export async function recordCommand(options: RecordOptions, io: RecordIo): Promise<number> {
	const path = options.output;
	if (path === undefined || path === '') {
		throw new CannotError('No file to record into was named: give one with -o, such as -o glove.gbrec.');
	}

	if (options.rotate !== undefined && options.rotate < 1)
		throw new CannotError('--rotate takes a second at least, such as 10m or 1h: shorter files are of no use.');

	// Before the port: opening it restarts many boards, which is a pity when nothing comes of it.
	await checkPlace(path, options.force === true);

	// A time that is to be reached is not given up for a loose plug.
	const reattach = options.reattach === true || options.for !== undefined;
	const opened = await openNamedSource(
		options.port,
		{...options, reattach},
		{stdin: io.stdin ?? process.stdin, signal: io.signal},
	);
	const {source} = opened;
	const failed: {why?: string} = {};
	let talk: Talk | undefined;
	const writer = await openRecording(path, opened, options, {
		onError(message) {
			failed.why = message;
			void source.close();
		},
		onNotice: message => talk?.line(message),
		onNext: next => talk?.line(`Goes on in ${next}.`),
	});
	talk = new Talk(source, path, io.stderr, () => writer.bytes);
	const reached = await copy(source, writer, talk, {until: options.for, hasFailed: () => failed.why !== undefined});
	if (failed.why !== undefined) throw new CannotError(failed.why);
	io.stderr.write(
		`Recorded ${seconds(talk.lastT)} and ${bytesText(writer.bytes)} into ${listText(writer.paths.map(each => escapeText(each)))}.\n`,
	);
	const missed =
		writer.bytes === 0 ? nothingArrived(source) : io.signal.aborted ? undefined : cutShort(reached, options);
	if (missed === undefined) return 0;
	io.stderr.write(`${missed}\n`);
	return 1;
}

/** Why a recording of nothing is no success. */
function nothingArrived({info}: Source): string {
	return `Nothing arrived from ${escapeText(info.name)}: check that the board runs, that the cable carries data, and the baud rate.`;
}

/** Why one that ended early is none; undefined where the time that was asked for was reached. */
function cutShort(reached: number, options: RecordOptions): string | undefined {
	if (options.for === undefined || reached >= options.for - toleranceSeconds) return undefined;
	return `The ${seconds(options.for)} that were asked for were not reached.`;
}

/** The recording to write; the source is closed where it cannot be made. */
async function openRecording(
	path: string,
	{source, sheet}: NamedSource,
	{rotate, note, force}: RecordOptions,
	told: Pick<RotatingOptions, 'onError' | 'onNotice' | 'onNext'>,
): Promise<RotatingRecording> {
	try {
		return await RotatingRecording.create(path, {
			every: rotate ?? Number.POSITIVE_INFINITY,
			source: source.info,
			...(sheet !== undefined && {sheet}),
			...(note !== undefined && {note}),
			...(force !== undefined && {force}),
			...told,
		});
	} catch (error) {
		await source.close();
		throw error;
	}
}

/** Writes all that comes until a time, the source's end or a failure, and ends all three. Gives the time that was reached. */
async function copy(
	source: Source,
	writer: RotatingRecording,
	talk: Talk,
	{
		until = Number.POSITIVE_INFINITY,
		hasFailed,
	}: {readonly until: number | undefined; readonly hasFailed: () => boolean},
): Promise<number> {
	try {
		recording: for await (const batch of source.batches()) {
			for (const item of batch) {
				if (item.t > until) break recording;
				await writer.write(item);
				talk.tell(item);
			}

			if (hasFailed()) break;
		}

		return source.now?.() ?? source.endedAt?.() ?? talk.lastT;
	} finally {
		await source.close();
		await writer.close(source.now?.());
		talk.stop();
	}
}

/** What goes to stderr while recording. */
class Talk {
	lastT = 0;
	readonly #source: Source;
	readonly #stderr: RecordIo['stderr'];
	readonly #bytes: () => number;
	readonly #timer: NodeJS.Timeout | undefined;
	#shown = false;
	#warned = false;

	constructor(source: Source, path: string, stderr: RecordIo['stderr'], bytes: () => number) {
		this.#source = source;
		this.#stderr = stderr;
		this.#bytes = bytes;
		const {name, baud} = source.info;
		const at = baud === null ? '' : ` at ${baud} baud`;
		stderr.write(`Recording ${escapeText(name)}${at} into ${escapeText(path)}. Ctrl-C stops.\n`);
		if (source.now) this.#timer = setInterval(() => this.#show(), showEveryMs);
	}

	tell(item: SourceItem): void {
		this.lastT = item.t;
		if ('event' in item) this.line(item.detail ?? item.event);
	}

	stop(): void {
		clearInterval(this.#timer);
		this.#clear();
	}

	#show(): void {
		const now = this.#source.now?.() ?? this.lastT;
		if (!this.#warned && this.#bytes() === 0 && now >= silentAfterSeconds) {
			this.#warned = true;
			this.line(`Nothing has arrived for ${silentAfterSeconds} s: does the board run, and is this its port?`);
		}

		// Lines of progress would only fill a log.
		if (!this.#stderr.isTTY) return;
		this.#stderr.write(`\r${seconds(now)}, ${bytesText(this.#bytes())}\u001B[K`);
		this.#shown = true;
	}

	line(text: string): void {
		this.#clear();
		this.#stderr.write(`${escapeText(text)}\n`);
	}

	#clear(): void {
		if (this.#shown) this.#stderr.write('\r\u001B[K');
		this.#shown = false;
	}
}

function seconds(t: number): string {
	return t < 60 ? measureText(t, 1, 's') : `${Math.floor(t / 60)} min ${Math.floor(t % 60)} s`;
}
