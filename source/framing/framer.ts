import {byteKinds, carriageReturn, lineFeed, nul, plainText, TextMeter} from './byte-kinds.ts';
import type {BadLineKind, FramerOptions, FrameSink} from './frame-sink.ts';
import type {Layout} from './layout.ts';
import {type ColumnFacts, nameChannels} from './name-channels.ts';
import {PacketFramer} from './packet-framer.ts';
import {type ForcedLayout, parseLayoutOption} from './parse-layout-option.ts';
import {
	couldBeFrame,
	decodeSlowly,
	isUndecided,
	largestGroup,
	linesWithLabels,
	linesWithout,
	linesWithoutAtLeast,
	longestDigits,
	looksHex,
	type Sample,
	sampleOf,
	settle,
	type TextLayout,
	valuesOf,
} from './settle.ts';
import {isBootLine} from './start-up-lines.ts';

const defaultMaxLineBytes = 65_536;
const excerptBytes = 120;

/** Samples kept while no layout is found, and odd lines kept while it is open whether they are damaged or a new format. */
const samplesKept = 100;
const oddKept = 40;

/** So many lines in a row of one other kind are a new format. */
const linesToResettle = 8;

/** A second board on the line: a well-formed other kind makes up this share of the lines, after so many of them. */
const secondBoardShare = 0.2;
const secondBoardLines = 10;

/** Of the lines seen before a layout settled, so many of another kind, at this share, are a second board's from the start. */
const secondBoardAtFirst = 5;
/** With labels fewer: damage does not make the same labels twice. */
const secondBoardWithLabels = 2;

/** Lines of words kept, one of which may turn out to hold the names of the columns that follow. */
const headersKept = 4;

/** Bytes without a frame, this share of them no text, after which packets are looked for although text had settled. */
const starvedBytes = 2048;
const starvedJunkShare = 0.1;

/** Values that a button guessed by its place must not show before it is taken for analog. */
const surprisesAllowed = 5;

/** Frames after which counter and clock columns guessed by their place are looked at again. */
const reviewAfter = 100;
const reviewFrames = 20;

/** Sequences that colour a line or clear it before it is written again (ECMA-48, section 5.4). */
const controlSequences = /\u001b\[[0-?]*[ -/]*[@-~]/g;

const decoder = new TextDecoder('utf-8');

/**
 * Bytes in, frames out. Finds the layout from the stream, keeps watching, and settles anew when the firmware changes
 * its format. Whatever is no frame is told as a bad or a stray line; nothing is dropped without a word but empty lines
 * and a first line that was joined in its middle. Memory is bounded by `maxLineBytes` and a few dozen lines.
 */
export class Framer {
	/** Whom frames and lines are told. */
	sink: FrameSink;
	bytesTotal = 0;
	lineCount = 0;
	private readonly maxLineBytes: number;
	private readonly forced: ForcedLayout | null;
	private readonly meter = new TextMeter();
	private readonly packets: PacketFramer;
	private settled: TextLayout | null = null;
	private values = new Float64Array(0);
	private samples: Sample[] = [];
	private odd: Sample[] = [];
	private headers: string[] = [];
	private linesSeen = 0;
	/** Where the newest frame ended, and how many bytes were no text up to there. */
	private frameAtBytes = 0;
	private frameAtJunk = 0;
	private otherKinds = new Map<string, number>();
	private pending: Uint8Array;
	private pendingLength = 0;
	private pendingOffset = 0;
	private pendingNul = false;
	private discarding = false;
	private skipLineFeed = false;
	private usesBoth = false;
	private dirty = false;
	private lastT = 0;
	private framesSinceSettled = 0;
	private surprises = 0;
	private buttonColumns: number[] = [];
	private readonly review: number[][] = [];

	constructor(sink: FrameSink, options: FramerOptions = {}) {
		this.sink = sink;
		this.maxLineBytes = options.maxLineBytes ?? defaultMaxLineBytes;
		this.forced = options.layout === undefined ? null : parseLayoutOption(options.layout);
		this.packets = new PacketFramer(this.forced);
		this.pending = new Uint8Array(256);
	}

	/** Bytes so far that no text contains; the share of them tells a wrong symbol rate. */
	get nonTextBytes(): number {
		return this.meter.nonText;
	}

	/** The layout in force; null until one is settled. */
	get layout(): Layout | null {
		return this.packets.layout ?? this.settled?.layout ?? null;
	}

	/** Bytes of the line under way. */
	get pendingBytes(): number {
		return this.pendingLength;
	}

	/** Takes the bytes of `bytes` from `start` to `end`, which came at `t` seconds. */
	push(t: number, bytes: Uint8Array, start = 0, end = bytes.length): void {
		this.lastT = t;
		const offset = this.bytesTotal - start;
		this.bytesTotal += end - start;
		const {meter} = this;
		const junkBefore = meter.nonText;
		let lineStart = start;
		let {dirty} = this;
		let sawNul = this.pendingNul;
		for (let i = start; i < end; i++) {
			const byte = bytes[i];
			const kind = byteKinds[byte];
			if (kind === plainText) {
				if (dirty) {
					meter.plain();
					dirty = false;
				}
				if (this.skipLineFeed) this.skipLineFeed = false;
				continue;
			}
			if (kind === lineFeed || kind === carriageReturn) {
				if (dirty) {
					meter.plain();
					dirty = false;
				}
				if (kind === lineFeed && this.skipLineFeed) {
					this.skipLineFeed = false;
					this.usesBoth = true;
					lineStart = i + 1;
					sawNul = false;
					this.pendingLength = 0;
					continue;
				}
				this.skipLineFeed = kind === carriageReturn;
				this.endLine(t, bytes, lineStart, i, offset + lineStart, sawNul);
				lineStart = i + 1;
				sawNul = false;
				continue;
			}
			if (kind === nul) sawNul = true;
			else this.skipLineFeed = false;
			meter.take(byte, kind);
			dirty = true;
		}
		this.dirty = dirty;
		this.pendingNul = sawNul;
		if (lineStart < end) this.keep(t, bytes, lineStart, end, offset + lineStart);
		// Packets only where the bytes are no text, and no text layout holds.
		if (this.settled === null || this.packets.layout !== null || this.isStarved())
			this.packets.push(t, bytes, start, end, meter.nonText - junkBefore, offset, this);
	}

	/** The source is over: the last line may lack its end, and a layout must be made of what there is. */
	end(t: number): void {
		this.lastT = Math.max(t, this.lastT);
		if (this.pendingLength > 0 && !this.discarding) {
			const bytes = this.pending.slice(0, this.pendingLength);
			this.pendingLength = 0;
			// Only a line that fits: a cut one at the very end is nobody's fault.
			if (this.settled?.template?.decode(bytes, 0, bytes.length, this.values)) this.emitFrame(this.lastT, bytes.length);
		}
		if (this.settled === null && this.packets.layout === null) this.trySettle(true);
		this.flushOdd();
		if (this.settled === null && this.packets.layout === null) this.releaseSamples();
	}

	/** Packets have been found: what was kept as text is none of it, but for lines of words before them. */
	packetsSettled(t: number, layout: Layout): void {
		const {samples} = this;
		this.samples = [];
		this.odd = [];
		this.settled = null;
		this.pendingLength = 0;
		this.discarding = false;
		for (const {raw, text, first, offset} of samples)
			if (!first && /^[\x20-\x7e\t]{4,}$/.test(text)) this.sink.strayLine(t, excerptOfText(raw), offset);
		this.sink.layout(t, layout);
	}

	/** Packets have been given up: whatever comes next may be text. */
	packetsGivenUp(): void {
		this.pendingLength = 0;
		this.discarding = true;
		this.frameAtBytes = this.bytesTotal;
		this.frameAtJunk = this.meter.nonText;
	}

	private isStarved(): boolean {
		const bytes = this.bytesTotal - this.frameAtBytes;
		return bytes >= starvedBytes && this.meter.nonText - this.frameAtJunk >= starvedJunkShare * bytes;
	}

	private keep(t: number, bytes: Uint8Array, start: number, end: number, offset: number): void {
		if (this.discarding || this.packets.layout !== null) return;
		const length = this.pendingLength + end - start;
		if (length > this.maxLineBytes) {
			this.discarding = true;
			this.sink.badLine(
				t,
				'overlong',
				this.excerptOf(bytes, start, end),
				this.pendingLength > 0 ? this.pendingOffset : offset,
			);
			this.pendingLength = 0;
			return;
		}
		if (this.pendingLength === 0) this.pendingOffset = offset;
		if (length > this.pending.length) {
			const larger = new Uint8Array(Math.min(this.maxLineBytes, Math.max(length, this.pending.length * 2)));
			larger.set(this.pending.subarray(0, this.pendingLength));
			this.pending = larger;
		}
		this.pending.set(bytes.subarray(start, end), this.pendingLength);
		this.pendingLength = length;
	}

	private endLine(t: number, bytes: Uint8Array, start: number, end: number, offset: number, sawNul: boolean): void {
		if (this.discarding) {
			this.discarding = false;
			this.pendingLength = 0;
			this.lineCount++;
			return;
		}
		if (this.pendingLength > 0) {
			this.keep(t, bytes, start, end, offset);
			if (this.discarding) {
				this.discarding = false;
				this.lineCount++;
				return;
			}
			const length = this.pendingLength;
			this.pendingLength = 0;
			this.takeLine(t, this.pending, 0, length, this.pendingOffset, sawNul);
		} else if (end - start > this.maxLineBytes) {
			this.lineCount++;
			this.sink.badLine(t, 'overlong', bytes.slice(start, start + excerptBytes), offset);
		} else this.takeLine(t, bytes, start, end, offset, sawNul);
	}

	/** One whole line without its end. */
	private takeLine(t: number, bytes: Uint8Array, start: number, end: number, offset: number, sawNul: boolean): void {
		const lineBytes = end - start + (this.usesBoth ? 2 : 1);
		if (sawNul || bytes[start] >= 0xef) {
			const clean = withoutMarks(bytes.subarray(start, end));
			this.takeCleanLine(t, clean, 0, clean.length, offset, lineBytes);
		} else this.takeCleanLine(t, bytes, start, end, offset, lineBytes);
	}

	private takeCleanLine(
		t: number,
		bytes: Uint8Array,
		start: number,
		end: number,
		offset: number,
		lineBytes: number,
	): void {
		this.lineCount++;
		if (this.packets.layout !== null) return;
		const {settled} = this;
		if (settled?.template?.decode(bytes, start, end, this.values)) {
			if (this.odd.length > 0) this.flushOdd();
			this.emitFrame(t, lineBytes);
			return;
		}
		if (isBlank(bytes, start, end)) {
			this.lineCount--;
			return;
		}
		const raw = decoder.decode(bytes.subarray(start, Math.min(end, start + 4096)));
		const text = raw.includes('\u001b') ? raw.replace(controlSequences, '') : raw;
		const line = {text, raw, t, lineBytes, offset, first: this.lineCount === 1};
		if (settled === null) {
			this.samples.push(sampleOf(line));
			this.linesSeen++;
			// Where long nothing settles, looking at every line would cost more than it can bring.
			if (this.samples.length <= 40 || this.linesSeen % 5 === 0) this.trySettle(false);
			return;
		}
		const {values} = isBootLine(text) ? {values: undefined} : decodeSlowly(text, settled);
		if (values !== undefined) {
			if (this.odd.length > 0) this.flushOdd();
			this.values.set(values);
			this.emitFrame(t, lineBytes);
			return;
		}
		const sample = sampleOf({...line, first: false}, settled);
		// A line of words is no new format: it is told at once.
		const isWords = sample.tokens.words.length > sample.tokens.numbers.length && !hexFields.test(text);
		if ((isBootLine(text) || isWords) && this.classify(sample) === 'stray') {
			this.flushOdd();
			this.tellOdd(sample);
			return;
		}
		this.odd.push(sample);
		this.considerNewFormat();
	}

	private trySettle(last: boolean): void {
		const {samples, forced} = this;
		if (samples.length === 0) return;
		const hex = looksHex(samples);
		const read = hex ? samples.map(sample => sampleOf(sample, hexStyle)) : samples;
		const group = largestGroup(forced === null ? read : read.filter(sample => this.isWanted(sample)));
		const labelled = group.length > 0 && group[0].tokens.numbers.every(number => number.label !== '');
		const spans = group.length > 0 ? group[group.length - 1].t - group[0].t : 0;
		const enough =
			(labelled && !isUndecided(group)) || (forced !== null && forced.channels.length > 0)
				? linesWithLabels
				: spans >= 1
					? linesWithoutAtLeast
					: linesWithout;
		if (group.length >= (last ? 3 : enough) && !isRefrain(group, samples, last)) this.adopt(group, read, hex);
		else if (samples.length > samplesKept) this.releaseSamples(samplesKept / 2);
	}

	/** Whether a line is of the framing and the number of columns that `--layout` asks for. */
	private isWanted(sample: Sample): boolean {
		const {forced} = this;
		if (forced === null) return true;
		if (forced.framing === 'slip' || forced.framing === 'cobs') return false;
		if (forced.framing !== null && sample.tokens.json !== (forced.framing === 'json')) return false;
		return forced.channels.length === 0 || sample.tokens.numbers.length === forced.channels.length;
	}

	/** Takes on the layout of a group of lines, and tells all lines kept so far. */
	private adopt(group: readonly Sample[], read: readonly Sample[], hex: boolean): void {
		const headers = [...this.headers];
		for (const sample of read) {
			if (sample === group[0]) break;
			headers.push(sample.text);
		}
		const forced = this.forced !== null && this.forced.channels.length > 0 ? this.forced.channels : undefined;
		const settled = settle(group, headers, group.length > 1 && group[group.length - 1].t > group[0].t, hex, forced);
		this.settled = settled;
		this.values = new Float64Array(settled.layout.channels.length);
		this.framesSinceSettled = 0;
		this.surprises = 0;
		this.review.length = 0;
		this.samples = [];
		this.headers = [];
		this.otherKinds = new Map();
		this.countOtherKinds(group, read);
		this.watchButtons();
		this.sink.layout(group[0].t, settled.layout);
		const members = new Set(group);
		for (const sample of read) {
			if (sample.first && members.has(sample) && isCutInFront(sample, group)) continue;
			const values = members.has(sample)
				? valuesOf(sample.tokens, settled.labels)
				: isBootLine(sample.text)
					? undefined
					: decodeSlowly(sample.text, settled).values;
			// A first line that begins with a separator lost its front; it has no empty field.
			if (values !== undefined && !(sample.first && !members.has(sample) && Number.isNaN(values[0]))) {
				this.values.set(values);
				this.emitFrame(sample.t, sample.lineBytes);
			} else if (!sample.first) this.tellOdd(sample);
		}
	}

	/** A second board that speaks from the start is known as one before its first line is told. */
	private countOtherKinds(group: readonly Sample[], read: readonly Sample[]): void {
		const labelled = this.settled !== null && this.settled.labels.size > 0;
		const counts = new Map<string, number>();
		for (const sample of read)
			if (sample.kind !== group[0].kind && couldBeFrame(sample) && !this.isRunTogether(sample))
				counts.set(sample.kind, (counts.get(sample.kind) ?? 0) + 1);
		for (const [kind, count] of counts)
			if (count >= (labelled ? secondBoardWithLabels : secondBoardAtFirst) && count >= secondBoardShare * group.length)
				this.otherKinds.set(kind, Math.max(count, secondBoardLines));
	}

	/** More digits in a row than any number of the layout has had, or a converter of 12 bits gives: a separator or a line end was lost. */
	private isRunTogether(sample: Sample): boolean {
		return this.settled !== null && longestDigits(sample.text) > Math.max(4, this.settled.mostDigits);
	}

	private considerNewFormat(): void {
		const {odd} = this;
		let last = odd.slice(-linesToResettle);
		if (last.length < linesToResettle) return;
		const hex = looksHex(last);
		if (hex || this.settled?.hex || this.settled?.decimalComma)
			last = last.map(sample => sampleOf(sample, hex ? hexStyle : undefined));
		const {kind} = last[last.length - 1];
		const newFormat =
			last[0].tokens.numbers.length >= 1 &&
			last.every(sample => sample.kind === kind && couldBeFrame(sample) && this.isWanted(sample));
		if (newFormat) {
			const before = odd.slice(0, -linesToResettle);
			this.odd = [];
			for (const sample of before) this.tellOdd(sample);
			this.adopt(last, last, hex);
		} else if (odd.length > oddKept) this.flushOdd();
	}

	private flushOdd(): void {
		const {odd} = this;
		this.odd = [];
		for (const sample of odd) this.tellOdd(sample);
	}

	/** Gives up the oldest samples (all by default): no layout was found in them. */
	private releaseSamples(keep = 0): void {
		const gone = this.samples.splice(0, this.samples.length - keep);
		for (const sample of gone) {
			if (!sample.first) this.tellOdd(sample);
		}
	}

	/** Tells a line that does not fit as what it most likely is. */
	private tellOdd(sample: Sample): void {
		const kind = this.classify(sample);
		const excerpt = excerptOfText(sample.raw);
		if (kind === 'stray') {
			this.headers.push(sample.text.slice(0, 1000));
			if (this.headers.length > headersKept) this.headers.shift();
			this.sink.strayLine(sample.t, excerpt, sample.offset);
		} else this.sink.badLine(sample.t, kind, excerpt, sample.offset);
	}

	private classify(sample: Sample): BadLineKind | 'stray' {
		const {settled} = this;
		const {numbers, words} = sample.tokens;
		if (isBootLine(sample.text)) return 'stray';
		const damaged = /[\u0000-\u0008\u000e-\u001a\u007f\ufffd]/.test(sample.text);
		if (settled === null) {
			const asked = this.forced?.channels.length ?? 0;
			if (!damaged && asked > 0 && numbers.length > 0 && words.length === 0 && numbers.length !== asked)
				return numbers.length < asked ? 'short' : 'merged';
			return damaged ? 'garbled' : 'stray';
		}
		const {labels, layout} = settled;
		const wanted = layout.channels.length;
		if (labels.size > 0 || layout.framing === 'json') {
			const known = new Set(
				[...labels.keys()].flatMap(label => (layout.framing === 'json' ? label.split('.') : [label])),
			);
			const own = numbers.map(number => number.label).concat(words);
			if (!damaged && !own.some(label => label !== '' && known.has(label)))
				return numbers.length > 0 && words.length === 0 && numbers.every(number => number.label === '')
					? 'garbled'
					: 'stray';
			if (this.isSecondBoard(sample)) return 'stray';
		} else {
			const letters = sample.text.replace(/[^\p{L}]/gu, '').length;
			if (!damaged && numbers.length === 0 && words.length > 0) return 'stray';
			if (
				letters >= 3 &&
				!damaged &&
				words.concat(numbers.map(number => number.label)).some(word => /\p{L}{3}/u.test(word))
			)
				return 'stray';
			if (this.isSecondBoard(sample)) return 'stray';
		}
		if (damaged) return 'garbled';
		return numbers.length < wanted ? 'short' : numbers.length > wanted ? 'merged' : 'garbled';
	}

	/** Whether lines of this well-formed kind are so many that another board must be sending them. */
	private isSecondBoard(sample: Sample): boolean {
		const {kind} = sample;
		if (!couldBeFrame(sample) || this.isRunTogether(sample)) return false;
		const seen = (this.otherKinds.get(kind) ?? 0) + 1;
		if (this.otherKinds.size < 50 || this.otherKinds.has(kind)) this.otherKinds.set(kind, seen);
		return seen >= secondBoardLines && seen >= secondBoardShare * this.framesSinceSettled;
	}

	private emitFrame(t: number, lineBytes: number): void {
		this.framesSinceSettled++;
		this.frameAtBytes = this.bytesTotal;
		this.frameAtJunk = this.meter.nonText;
		this.sink.frame(t, this.values, lineBytes);
		if (this.buttonColumns.length > 0) this.checkButtons(t);
		if (this.framesSinceSettled <= reviewAfter && this.framesSinceSettled > reviewAfter - reviewFrames)
			this.reviewRoles(t);
	}

	private watchButtons(): void {
		const {settled} = this;
		this.buttonColumns = [];
		if (settled === null || settled.layout.labelled || this.forced !== null) return;
		for (const channel of settled.layout.channels)
			if (channel.role === 'button') this.buttonColumns.push(channel.index);
	}

	/** A column taken for a button by its place that shows a third value is analog after all. */
	private checkButtons(t: number): void {
		for (const column of this.buttonColumns) {
			const value = this.values[column];
			const {values} = this.settled?.facts[column] ?? {values: [] as number[]};
			if (value === 0 || value === 1 || values.includes(value) || Number.isNaN(value)) continue;
			if (++this.surprises < surprisesAllowed) continue;
			this.surprises = 0;
			this.rename(t, column);
			return;
		}
	}

	/** Counter and clock columns were guessed from a few lines: a finger that happened to rise gives itself away later. */
	private reviewRoles(t: number): void {
		const {settled, review} = this;
		if (settled === null || settled.layout.labelled || this.forced !== null) return;
		review.push([...this.values]);
		if (review.length < reviewFrames) return;
		for (const channel of settled.layout.channels) {
			if (channel.role !== 'counter' && channel.role !== 'clock') continue;
			let rising = 0;
			for (let i = 1; i < review.length; i++) if (review[i][channel.index] > review[i - 1][channel.index]) rising++;
			if (rising < 0.7 * (review.length - 1)) this.rename(t, channel.index);
		}
		review.length = 0;
	}

	/** Takes a column for analog after all; all others stay what they were found to be. */
	private rename(t: number, column: number): void {
		const {settled} = this;
		if (settled === null) return;
		const {channels} = settled.layout;
		const facts = settled.facts.map((fact, i): ColumnFacts => {
			const {role, clockUnitSeconds} = channels[i];
			if (i === column || (role !== 'button' && role !== 'counter' && role !== 'clock'))
				return {...fact, decided: {role: 'analog'}};
			return {...fact, decided: clockUnitSeconds === undefined ? {role} : {role, clockUnitSeconds}};
		});
		this.settled = {...settled, facts, layout: {...settled.layout, channels: nameChannels(facts, [], false)}};
		this.watchButtons();
		this.sink.layout(t, this.settled.layout);
	}

	private excerptOf(bytes: Uint8Array, start: number, end: number): Uint8Array {
		const kept = this.pending.subarray(0, Math.min(excerptBytes, this.pendingLength));
		const excerpt = new Uint8Array(Math.min(excerptBytes, kept.length + end - start));
		excerpt.set(kept);
		excerpt.set(bytes.subarray(start, start + excerpt.length - kept.length), kept.length);
		return excerpt;
	}
}

const encoder = new TextEncoder();

function excerptOfText(text: string): Uint8Array {
	return encoder.encode(text.slice(0, excerptBytes)).subarray(0, excerptBytes);
}

/**
 * Whether the very first line lost the front of its first number: it has fewer digits there than any line after it, and
 * lies further off than the column ever goes from line to line.
 */
function isCutInFront(first: Sample, group: readonly Sample[]): boolean {
	const {tokens, text} = first;
	const start = tokens.numbers[0]?.start ?? 0;
	if (tokens.json || group.length < 3 || /\S/.test(text.slice(0, start))) return false;
	const digits = (sample: Sample): number => (/\d+/.exec(sample.text)?.[0] ?? '').length;
	const own = digits(first);
	const values = group.map(sample => sample.tokens.numbers[0].value);
	let most = 0;
	for (let i = 2; i < values.length; i++) most = Math.max(most, Math.abs(values[i] - values[i - 1]));
	return group.slice(1).every(sample => digits(sample) > own) && Math.abs(values[1] - values[0]) > 1.5 * most;
}

/**
 * Whether a few lines among many others are no readings: words that come back unchanged at every restart, or, at the end
 * of a source, the lines that happen to be alike.
 */
function isRefrain(group: readonly Sample[], samples: readonly Sample[], last: boolean): boolean {
	if (2 * group.length >= samples.length) return false;
	return (
		(last && group.length < linesWithLabels) ||
		(group[0].tokens.words.length > 0 && group.every(({text}) => text === group[0].text))
	);
}

/** Columns of bare hexadecimal look like words until all of them are seen together. */
const hexFields = /^\s*[0-9a-f]{2,8}(?:[\s,;|]+[0-9a-f]{2,8})+\s*$/i;

const hexStyle = {decimalComma: false, hex: true};

function isBlank(bytes: Uint8Array, start: number, end: number): boolean {
	for (let i = start; i < end; i++) if (bytes[i] !== 0x20 && bytes[i] !== 0x09) return false;
	return true;
}

/** The line without zeros and byte-order marks: UTF-16 of ASCII text becomes that text. */
function withoutMarks(line: Uint8Array): Uint8Array {
	let from = 0;
	if (line[0] === 0xef && line[1] === 0xbb && line[2] === 0xbf) from = 3;
	else if ((line[0] === 0xff && line[1] === 0xfe) || (line[0] === 0xfe && line[1] === 0xff)) from = 2;
	const text = line.subarray(from);
	const clean = text.filter(byte => byte !== 0);
	// Two bytes a character, and not all of them ASCII: a degree sign is one byte then, and no UTF-8.
	const wide = clean.length < text.length && 2 * clean.length <= text.length + 1 && clean.some(byte => byte >= 0x80);
	return wide ? encoder.encode(String.fromCharCode(...clean.subarray(0, 4096))) : clean;
}
