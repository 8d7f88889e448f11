import {CannotError} from '../../cannot-error.ts';
import type {SourceIntake} from '../../stream/intake.ts';
import type {Source, SourceInfo, SourceKind} from '../../stream/source.ts';
import type {SourceItem} from '../../stream/source-item.ts';
import {PeekedStream} from '../byte-stream.ts';
import {cleanLines, sampleLines} from './clean-lines.ts';
import {isAnglePoseLog, isPoseLog} from './find-poses.ts';
import {findLogShape} from './find-shape.ts';
import {findStages} from './find-stages.ts';
import {findHexDump, fromHexDump} from './hex-dump.ts';
import {findJsonText, fromJsonText} from './json-text.ts';
import {LogClock} from './log-clock.ts';
import {lineEndAfter, textEnd} from './log-lines.ts';
import type {LogShape} from './log-shape.ts';
import {tailEnd} from './separators.ts';
import {breakMark, isOmission} from './stages/omissions.ts';
import {StartText} from './start-text.ts';
import {type TextColumns, withoutTextColumns} from './text-columns.ts';
import {encodingNames, findEncoding, transcode, withoutByteOrderMark} from './transcode.ts';

/** Enough lines to tell a time from a channel, little enough to be read at once. */
export const sampleBytes = 256 * 1024;

/** Enough to tell how the text is encoded, also where its first words beyond ASCII come late. */
const encodingBytes = 64 * 1024;

const batchSize = 4096;

/** Without times, lines tell the time; where no line end comes for this long, bytes do. */
const mostBytesPerAssumedLine = 1024;

/** With times, a line without end is handed on in pieces of this size, so that memory stays bounded. */
const mostBytesPerLine = 64 * 1024;

const defaultRate = 100;
const defaultBaud = 115_200;

type LogBytes = {
	/** As the user would name it. */
	readonly name: string;
	readonly kind?: SourceKind;
	readonly chunks: AsyncIterable<Uint8Array>;
	readonly totalBytes?: number;
	/** Why the bytes end early; asked once they have ended. */
	readonly damage?: () => string | undefined;
};

export type LogOptions = {
	/** Lines per second where the log has no times. Default 100. */
	readonly rate?: number;
	/** Symbol rate of the line; times bytes without line ends. Default 115,200. */
	readonly baud?: number;
};

/**
 * A plain log as a source: one item per line, its line end included, at the time written on it. What the listening
 * program put before the frame is not in the bytes; a byte order mark isn't either, and UTF-16 comes as UTF-8.
 *
 * Timing is `column` where times were found, and `assumed` where they are made up: from `rate`, from the line's speed
 * where line ends are rare, or spread over stamps too coarse to tell lines apart.
 */
export async function openLog(bytes: LogBytes, options: LogOptions = {}): Promise<Source> {
	const {text, told} = await takeIn(bytes);
	const start = await text.peek(sampleBytes);
	const shape = findLogShape(start, text.ended);
	const {stamp} = shape;
	let closed = false;
	const info: SourceInfo = {
		kind: bytes.kind ?? 'log',
		name: bytes.name,
		timing: stamp && stamp.coarseSeconds === 0 ? 'column' : 'assumed',
		baud: options.baud ?? null,
	};
	return {
		info,
		...(bytes.totalBytes === undefined ? {} : {totalBytes: bytes.totalBytes}),
		intake: () => (stamp && stamp.coarseSeconds > 0 ? {...told(), coarseTimes: true} : told()),
		async *batches() {
			let t = 0;
			for await (const batch of readLines(text, shape, options)) {
				if (closed) return;
				t = batch.at(-1)!.t;
				yield batch;
			}

			const damage = bytes.damage?.();
			if (damage) yield [{t, event: 'truncated', detail: `${bytes.name}: ${damage}.`}];
		},
		async close() {
			closed = true;
		},
	};
}

/** The text of a log, brought step by step into the form of plain lines, and what was done for that. */
async function takeIn({
	name,
	chunks,
}: LogBytes): Promise<{readonly text: PeekedStream; readonly told: () => SourceIntake}> {
	const steps: string[] = [];
	const raw = new PeekedStream(chunks);
	const encoding = findEncoding(await raw.peek(encodingBytes));
	if (encoding !== undefined) steps.push(`${encodingNames[encoding]} text`);
	let text = new PeekedStream(encoding === undefined ? withoutByteOrderMark(raw) : transcode(raw, encoding));
	const dump = findHexDump(await text.peek(encodingBytes));
	if (dump !== undefined) {
		steps.push('a hex dump, turned back into bytes');
		text = new PeekedStream(fromHexDump(text, dump));
	}

	const json = findJsonText(await text.peek(sampleBytes));
	if (json !== undefined) {
		steps.push('a JSON text, a frame at a time');
		text = new PeekedStream(fromJsonText(text, json));
	}

	const start = await text.peek(sampleBytes);
	const lines = sampleLines(start, text.ended);
	if (isPoseLog(lines))
		throw new CannotError(
			`${name} is a log of a tracker's poses (position and orientation), not of a glove's readings: glovebench mount takes it and solves how the tracker sits on the hand. For check give the lines that the glove itself sent.`,
		);
	if (isAnglePoseLog(lines))
		throw new CannotError(
			`${name} is a log of a tracker's poses (position and angles), not of a glove's readings. For check give the lines that the glove itself sent; for glovebench mount let the tracker's program write the turn as a quaternion (w, x, y, z).`,
		);
	const stages = findStages(lines);
	return {
		text: stages.length === 0 ? text : new PeekedStream(cleanLines(text, stages, start)),
		told: () => ({
			steps,
			leftOut: stages.flatMap(stage => [stage.told, stage.alsoTold]).filter(one => one !== undefined),
			odd: [],
		}),
	};
}

/** Gives each line its time and takes off what is not the device's. */
type LineTimer = (bytes: Buffer, from: number, to: number, batch: SourceItem[]) => SourceItem;

async function* readLines(
	chunks: AsyncIterable<Uint8Array>,
	shape: LogShape,
	options: LogOptions,
): AsyncGenerator<SourceItem[]> {
	const {lineEnd, stamp, textColumns} = shape;
	const timed = stamp ? stampedTimer(shape) : assumedTimer(options);
	const timeLine = withBreaks(textColumns ? withoutWords(timed, textColumns) : timed);
	const longest = stamp ? mostBytesPerLine : mostBytesPerAssumedLine;
	const lines = new LineItems(timeLine, longest);
	let rest: Buffer = Buffer.alloc(0);
	for await (const chunk of chunks) {
		const bytes = rest.byteLength === 0 ? asBuffer(chunk) : Buffer.concat([rest, chunk]);
		let from = 0;
		for (let end = lineEndAfter(bytes, 0, lineEnd); end !== -1; end = lineEndAfter(bytes, from, lineEnd)) {
			lines.push(bytes, lines.pushLong(bytes, from, end), end);
			from = end;
			if (lines.count >= batchSize) yield lines.take();
		}

		rest = bytes.subarray(lines.pushLong(bytes, from, bytes.byteLength));
		if (lines.count > 0) yield lines.take();
	}

	if (rest.byteLength > 0) {
		lines.push(rest, 0, rest.byteLength);
		yield lines.take();
	}
}

/** The items of lines that were cut, until they are taken. */
class LineItems {
	readonly #timeLine: LineTimer;
	readonly #longest: number;
	#batch: SourceItem[] = [];

	constructor(timeLine: LineTimer, longest: number) {
		this.#timeLine = timeLine;
		this.#longest = longest;
	}

	get count(): number {
		return this.#batch.length;
	}

	push(bytes: Buffer, from: number, to: number): void {
		this.#batch.push(this.#timeLine(bytes, from, to, this.#batch));
	}

	/** Pieces of a line that is longer than memory may hold; gives where what is left of it begins. */
	pushLong(bytes: Buffer, from: number, to: number): number {
		let at = from;
		while (to - at > this.#longest) {
			this.push(bytes, at, at + this.#longest);
			at += this.#longest;
		}

		return at;
	}

	take(): SourceItem[] {
		const batch = this.#batch;
		this.#batch = [];
		return batch;
	}
}

function asBuffer(bytes: Uint8Array): Buffer {
	return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

/** Takes the columns of words off each row besides. */
function withoutWords(timeLine: LineTimer, columns: TextColumns): LineTimer {
	return (bytes, from, to, batch) => {
		const item = timeLine(bytes, from, to, batch);
		return 'bytes' in item ? {...item, bytes: withoutTextColumns(item.bytes, columns)} : item;
	};
}

const breakBytes = Buffer.from(breakMark, 'latin1');

/** Where lines were left out, what comes does not follow what came. */
function withBreaks(timeLine: LineTimer): LineTimer {
	let t = 0;
	return (bytes, from, to, batch) => {
		const isMark = bytes[from] === breakBytes[0] && bytes.subarray(from, from + breakBytes.length).equals(breakBytes);
		if (isMark || saysOmitted(bytes, from, to))
			return {t, event: 'gap', detail: 'the log says that lines were left out here'};
		const item = timeLine(bytes, from, to, batch);
		t = item.t;
		return item;
	};
}

/** The same in a log that needs no steps otherwise; told by its first two bytes, since every line is asked. */
function saysOmitted(bytes: Buffer, from: number, to: number): boolean {
	const first = bytes[from];
	if (first !== 0x5b && first !== 0x2e && first !== 0x3c && first !== 0x28 && first !== 0xe2) return false;
	const second = bytes[from + 1];
	if (second !== 0x2e && second !== 0x20 && second !== 0xe2 && second !== 0x80 && second !== 0x73) return false;
	return to - from < longestOmission && isOmission(bytes.toString('latin1', from, to).trim());
}

const longestOmission = 100;

function stampedTimer(shape: LogShape): LineTimer {
	const {reader, foreign, tail, headerLine} = shape.stamp!;
	const clock = new LogClock(shape.stamp!);
	let line = -1;
	return (bytes, from, to, batch) => {
		const end = textEnd(bytes, from, to);
		if (end > from) line++;
		const stamp = reader.read(bytes, from, end);
		let at = from;
		if (!Number.isNaN(stamp)) {
			clock.at(stamp);
			if (clock.sessionEnds !== undefined) batch.push({t: clock.now, event: 'session', detail: clock.sessionEnds});
			if (foreign) at = frameAt(bytes, reader.after, end, tail);
		} else if (line === headerLine && end > from) {
			at = Math.min(bytes.indexOf(tail, from) + tail.byteLength || from, end);
		}

		return {t: clock.now, bytes: new Uint8Array(bytes.buffer, bytes.byteOffset + at, to - at)};
	};
}

/** Where the frame begins: behind what usually follows the stamp, or behind whatever separator is there instead. */
function frameAt(bytes: Buffer, after: number, end: number, tail: Uint8Array): number {
	for (let i = 0; i < tail.byteLength; i++) {
		if (bytes[after + i] !== tail[i] || after + i >= end) return tailEnd(bytes, after, end);
	}

	return after + tail.byteLength;
}

function assumedTimer(options: LogOptions): LineTimer {
	const rate = options.rate ?? defaultRate;
	const secondsPerByte = 10 / (options.baud ?? defaultBaud);
	let lines = 0;
	let junkBytes = 0;
	const starts = new StartText();
	return (bytes, from, to, batch) => {
		const t = Math.round((lines / rate + junkBytes * secondsPerByte) * 1e6) / 1e6;
		// A blank line between two frames is part of their line end.
		if (to - from >= mostBytesPerAssumedLine) junkBytes += to - from;
		else if (textEnd(bytes, from, to) > from) {
			lines++;
			if (starts.comesAgain(bytes, from, to)) batch.push({t, event: 'session', detail: 'start-up text comes again'});
		}

		return {t, bytes: new Uint8Array(bytes.buffer, bytes.byteOffset + from, to - from)};
	};
}
