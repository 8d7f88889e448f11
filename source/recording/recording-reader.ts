import {baudRange} from '../baud-range.ts';
import {CannotError} from '../cannot-error.ts';
import type {Source} from '../stream/source.ts';
import type {LinkEvent, SourceItem, Timing} from '../stream/source-item.ts';
import {ItemLine, type ItemLineKind} from './item-line.ts';
import {type RecordingHeader, recordingVersion} from './recording-format.ts';

const lineFeed = 0x0a;
const batchSize = 4096;

/** Longest line read: a chunk of a live source is far shorter. Anything longer is damage. */
const maxLineBytes = 16 * 1024 * 1024;

/** Where a recording's bytes come from, decompressed. Chunks are changed in place while being read. */
type RecordingBytes = {
	/** As the user would name it, for messages. */
	readonly name: string;
	readonly chunks: AsyncIterable<Uint8Array>;
	readonly totalBytes?: number;
	/** Why the bytes end before the file does (a damaged compressed file); asked once they have ended. */
	readonly damage?: () => string | undefined;
};

/** True where bytes begin like a recording, or are the beginning of such a beginning. */
export function looksLikeRecording(start: Uint8Array): boolean {
	const text = Buffer.from(start.buffer, start.byteOffset, Math.min(start.byteLength, 64)).toString('latin1');
	const trimmed = text.replace(/^(?:\xEF\xBB\xBF)?\s*\{\s*/, '{');
	const opening = '{"glovebench"';
	return trimmed.startsWith(opening) || (trimmed.length >= 2 && opening.startsWith(trimmed));
}

/**
 * Reads the first line of a recording.
 *
 * @param line The line, with or without its end.
 * @throws CannotError if it is no header, or one of a newer format.
 */
export function readRecordingHeader(name: string, line: string): RecordingHeader {
	let parsed: unknown;
	try {
		parsed = JSON.parse(line.replace(/^\uFEFF/, ''));
	} catch {}

	const header = (typeof parsed === 'object' && parsed !== null ? parsed : {}) as Partial<RecordingHeader>;
	const {glovebench: version} = header;
	if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) {
		throw new CannotError(
			`${name} is no recording: its first line is damaged or not a recording's header. If it is a plain log, rename it to end in .txt.`,
		);
	}

	if (version > recordingVersion) {
		throw new CannotError(
			`${name} is a recording of format ${version}, and this program reads up to format ${recordingVersion}. Update glovebench to read it.`,
		);
	}

	return {
		glovebench: version,
		startedAt: typeof header.startedAt === 'string' ? header.startedAt : '',
		source: typeof header.source === 'object' && header.source !== null ? header.source : {},
		link: isBaud(header.link?.baud) ? {baud: header.link.baud} : null,
		sheet: header.sheet ?? null,
		note: typeof header.note === 'string' ? header.note : '',
	};
}

/**
 * A recording as a source: its header now, its items when asked for. A file that ends without its end line gives all
 * whole lines and then a `truncated` event; lines that cannot be read are left out, and a `truncated` event at the end
 * tells how many and where.
 *
 * @throws CannotError if the header cannot be read; while iterating, if not one line can be.
 */
export async function openRecording(bytes: RecordingBytes): Promise<Source> {
	const {name} = bytes;
	const lines = new LineCutter(bytes.chunks[Symbol.asyncIterator]());
	const cutInHeader = `${name} is cut off inside its first line: nothing of the recording is left.`;
	if (!(await lines.next())) throw new CannotError(cutInHeader);
	// Only a whole JSON object ends with its brace, so a first line that reads is whole even without a line end.
	if (!lines.whole && !isJson(lines.text())) throw new CannotError(cutInHeader);
	const header = readRecordingHeader(name, lines.text());
	let closed = false;
	let endedAt: number | undefined;
	return {
		info: {
			kind: 'recording',
			name,
			timing: isTiming(header.source.timing) ? header.source.timing : 'measured',
			baud: header.link?.baud ?? null,
			...(header.sheet === null ? {} : {sheet: header.sheet}),
			note: header.note,
			startedAt: header.startedAt,
		},
		...(bytes.totalBytes === undefined ? {} : {totalBytes: bytes.totalBytes}),
		async *batches() {
			for await (const batch of readItems(name, lines, bytes.damage, t => {
				endedAt = t;
			})) {
				if (closed) return;
				yield batch;
			}
		},
		// Silence at the end of a recording is a finding: the end line tells how long it lasted.
		endedAt: () => endedAt,
		async close() {
			closed = true;
		},
	};
}

async function* readItems(
	name: string,
	lines: LineCutter,
	damage: (() => string | undefined) | undefined,
	ends: (t: number) => void,
): AsyncGenerator<SourceItem[]> {
	const line = new ItemLine();
	const reading = new Reading(name);
	let batch: SourceItem[] = [];
	while (!reading.isOver && (await lines.next())) {
		const item = reading.take(line.read(lines.bytes, lines.start, lines.end), line, lines.whole);
		if (reading.endedAt !== undefined) ends(reading.endedAt);
		if (item !== undefined) batch.push(item);
		if (batch.length >= batchSize) {
			yield batch;
			batch = [];
		}
	}

	const truncated = reading.end(damage?.());
	if (truncated !== undefined) batch.push(truncated);
	if (batch.length > 0) yield batch;
}

/** What the lines of a recording are items of, and what is wrong with them as a whole. */
class Reading {
	/** The time on the end line; undefined before it. */
	endedAt: number | undefined;
	/** True once another recording begins in it: nothing more is read. */
	isOver = false;
	readonly #name: string;
	#lineNumber = 1;
	#lastT = 0;
	#received = 0;
	#badLines = 0;
	#firstBadLine = 0;
	/** It ends in the middle of a line. */
	#isCut = false;
	#hasItems = false;
	#trouble: string | undefined;

	constructor(name: string) {
		this.#name = name;
	}

	/** Takes a line after the header; gives its item, if it is one. */
	take(kind: ItemLineKind, line: ItemLine, isWhole: boolean): SourceItem | undefined {
		this.#lineNumber++;
		switch (kind) {
			case 'blank':
				return undefined;
			case 'header':
				this.#trouble = `a second recording begins at line ${this.#lineNumber}; only the first was read`;
				this.isOver = true;
				return undefined;
			case 'bad':
				this.#takeBad(isWhole);
				return undefined;
		}

		// A hand-edited or damaged time must not run backwards for whoever reads on.
		this.#lastT = Math.max(this.#lastT, line.t);
		if (kind === 'end') {
			this.#takeEnd(line);
			return undefined;
		}

		this.#hasItems = true;
		if (kind === 'bytes') this.#received += line.bytes.byteLength;
		return itemOf(kind, line, this.#lastT);
	}

	/** Only a line without its end can be the mark of a cut. */
	#takeBad(isWhole: boolean): void {
		if (!isWhole) {
			this.#isCut = true;
			return;
		}

		this.#badLines++;
		this.#firstBadLine ||= this.#lineNumber;
	}

	#takeEnd({endBytes}: ItemLine): void {
		this.endedAt = this.#lastT;
		if (endBytes !== undefined && endBytes !== this.#received && this.#badLines === 0)
			this.#trouble = `${this.#received} of the ${endBytes} received bytes are in it`;
	}

	/**
	 * What is missing or could not be read, as an event; undefined where all is well. `broken` says what is wrong with the
	 * file itself. Throws `CannotError` where nothing could be read.
	 */
	end(broken: string | undefined): SourceItem | undefined {
		if (this.#badLines > 0 && !this.#hasItems) {
			throw new CannotError(
				`${this.#name} holds nothing that can be read: line ${this.#firstBadLine} is no line of a recording, nor is any other.`,
			);
		}

		const isWhole = this.endedAt !== undefined || this.#trouble !== undefined || broken !== undefined;
		const where = this.#isCut ? 'in the middle of a line' : 'without its end line';
		const end = isWhole ? undefined : `the file ends ${where} at line ${this.#lineNumber}`;
		const reasons = [this.#trouble, this.#leftOut(), broken, end].filter(reason => reason !== undefined);
		return reasons.length === 0
			? undefined
			: {t: this.#lastT, event: 'truncated', detail: `${this.#name}: ${reasons.join('; ')}.`};
	}

	#leftOut(): string | undefined {
		if (this.#badLines === 0) return undefined;
		return this.#badLines === 1
			? `line ${this.#firstBadLine} could not be read and was left out`
			: `${this.#badLines} lines, the first being line ${this.#firstBadLine}, could not be read and were left out`;
	}
}

function itemOf(kind: ItemLineKind, {bytes, text, detail}: ItemLine, t: number): SourceItem | undefined {
	if (kind === 'bytes') return {t, bytes};
	if (kind === 'mark') return {t, mark: text};
	if (kind !== 'event') return undefined;
	const event = text as LinkEvent;
	return detail === undefined ? {t, event} : {t, event, detail};
}

function isJson(text: string): boolean {
	try {
		JSON.parse(text);
		return true;
	} catch {
		return false;
	}
}

/** What is beyond the rates that there are is damage, and then none is known. */
function isBaud(value: unknown): value is number {
	return typeof value === 'number' && value >= baudRange.least && value <= baudRange.most;
}

function isTiming(value: unknown): value is Timing {
	return value === 'measured' || value === 'column' || value === 'assumed';
}

/** Cuts chunks into lines without copying them, except where a line runs over the end of a chunk. */
class LineCutter {
	bytes: Buffer = Buffer.alloc(0);
	start = 0;
	/** After the last byte of the line, its line end not included. */
	end = 0;
	/** False for a last line without line end. */
	whole = true;
	readonly #chunks: AsyncIterator<Uint8Array>;
	#next = 0;
	#over = false;

	constructor(chunks: AsyncIterator<Uint8Array>) {
		this.#chunks = chunks;
	}

	/** Moves to the next line; false at the end. Only awaits where a chunk ends. */
	next(): boolean | Promise<boolean> {
		const at = this.bytes.indexOf(lineFeed, this.#next);
		if (at === -1) return this.#refill();
		this.start = this.#next;
		this.end = at;
		this.#next = at + 1;
		return true;
	}

	text(): string {
		return this.bytes.toString('utf8', this.start, this.end);
	}

	async #refill(): Promise<boolean> {
		const parts: Uint8Array[] = [this.bytes.subarray(this.#next)];
		let size = parts[0]!.byteLength;
		while (!this.#over) {
			const {value, done} = await this.#chunks.next();
			if (done) {
				this.#over = true;
				break;
			}

			parts.push(value);
			size += value.byteLength;
			if (value.includes(lineFeed)) break;
			// The line is damage: what is kept of it is enough to say so.
			if (size > maxLineBytes) {
				parts.length = 1;
				size = parts[0]!.byteLength;
			}
		}

		this.bytes = Buffer.concat(parts, size);
		this.#next = 0;
		const at = this.bytes.indexOf(lineFeed);
		if (at === -1) {
			this.start = 0;
			this.end = this.bytes.byteLength;
			this.#next = this.end;
			this.whole = false;
			return this.end > 0;
		}

		return this.next();
	}
}
