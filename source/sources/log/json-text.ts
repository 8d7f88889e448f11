/** A text of JSON whose frames are not one to a line. */
type JsonText = {
	/** How many containers a frame lies in; where that is more than 0, the innermost of them is an array. */
	readonly depth: number;
};

const leastFrames = 3;
const mostDepth = 32;

const openers = '[{(';
const closers = ']})';

/** What may stand outside of quotes. */
const plain = /[-+.\w\s,:[\]{}()"'\u0080-\u00ff]/;

/**
 * Looks whether a text is JSON (or a literal of Python's: single quotes, round brackets) that has its frames indented over
 * several lines, or all on one line. Undefined where it is none, or has one frame to a line, which needs no help.
 */
export function findJsonText(start: Uint8Array): JsonText | undefined {
	const text = Buffer.from(start.buffer, start.byteOffset, start.byteLength).toString('latin1');
	if (!/^\s*[[{(]/.test(text)) return undefined;
	const nest = new Nest(text);
	let numbers = 0;
	for (let at = 0; at < text.length; at++) {
		const character = text[at];
		if (character === '"' || character === "'") {
			at = endOfString(text, at);
			if (at < 0) break;
		} else if (openers.includes(character) || closers.includes(character)) {
			if (!nest.take(character, at)) return undefined;
		} else if (/\d/.test(character)) numbers++;
		else if (!mayStand(character, nest.isOutside)) return undefined;
	}

	return numbers === 0 ? undefined : nest.frames();
}

/** What may stand outside of strings, brackets and digits aside; between whole texts nothing but blanks and commas. */
function mayStand(character: string, isOutside: boolean): boolean {
	return plain.test(character) && (!isOutside || /[\s,]/.test(character));
}

/** Containers within containers, and how many of each kind ended at which depth. */
class Nest {
	readonly #text: string;
	readonly #open: {readonly opener: string; readonly at: number}[] = [];
	#endedOutside = 0;
	/** Of those at each depth: how many stand in an array and hold two numbers. */
	readonly #inArray = new Array<number>(mostDepth).fill(0);
	/** A text goes over several lines, or begins on the line where another ended. */
	#spans = false;
	#lastEnd = -1;

	constructor(text: string) {
		this.#text = text;
	}

	get isOutside(): boolean {
		return this.#open.length === 0;
	}

	/** Takes a bracket; false where it closes none of its kind, or lies too deep. */
	take(character: string, at: number): boolean {
		return openers.includes(character) ? this.#begin(character, at) : this.#end(character, at);
	}

	/** Where the frames are: whole texts that need help, or what stands in an array of them; undefined for neither. */
	frames(): JsonText | undefined {
		if (this.#endedOutside >= leastFrames) return this.#spans ? {depth: 0} : undefined;
		const depth = this.#inArray.findIndex(count => count >= leastFrames);
		return depth > 0 ? {depth} : undefined;
	}

	#begin(opener: string, at: number): boolean {
		const isNext = this.isOutside && this.#lastEnd >= 0;
		if (isNext && !this.#text.slice(this.#lastEnd, at).includes('\n')) this.#spans = true;
		this.#open.push({opener, at});
		return this.#open.length < mostDepth;
	}

	#end(closer: string, at: number): boolean {
		const begun = this.#open.pop();
		if (begun === undefined || openers.indexOf(begun.opener) !== closers.indexOf(closer)) return false;
		const inner = this.#text.slice(begun.at, at);
		const outer = this.#open.at(-1);
		if (outer === undefined) {
			this.#endedOutside++;
			this.#lastEnd = at;
			if (inner.includes('\n')) this.#spans = true;
		} else if (outer.opener !== '{' && /\d[^\d]+\d/.test(inner)) this.#inArray[this.#open.length]++;
		return true;
	}
}

function endOfString(text: string, at: number): number {
	for (let i = at + 1; i < text.length; i++) {
		if (text[i] === '\\') i++;
		else if (text[i] === text[at]) return i;
	}

	return -1;
}

const lineFeed = 0x0a;
const quote = 0x22;
const apostrophe = 0x27;
const backslash = 0x5c;

/** A frame to a line: what stands around the frames is left out, single quotes and round brackets become those of JSON. */
export async function* fromJsonText(chunks: AsyncIterable<Uint8Array>, {depth}: JsonText): AsyncGenerator<Uint8Array> {
	const frames = new FrameLines(depth);
	for await (const chunk of chunks) {
		const lines = frames.push(chunk);
		if (lines.length > 0) yield lines;
	}
}

/** What opens a container, and what it is in JSON; 0 for all other bytes. The same for what closes one. */
const opened = new Uint8Array(256);
const closed = new Uint8Array(256);
for (const [at, opener] of [...openers].entries()) {
	opened[opener.charCodeAt(0)] = opener === '(' ? 0x5b : opener.charCodeAt(0);
	const closer = closers.charCodeAt(at);
	closed[closer] = opener === '(' ? 0x5d : closer;
}

/** Writes the frames of a JSON text line by line as its bytes come. */
class FrameLines {
	/** How many containers a frame lies in. */
	readonly #depth: number;
	/** Openers of the containers that are open. */
	readonly #stack: number[] = [];
	/** The quote that ends the string under way; 0 outside of strings. */
	#inside = 0;
	#isEscaped = false;
	#inFrame = false;
	#out = Buffer.alloc(0);
	#length = 0;

	constructor(depth: number) {
		this.#depth = depth;
	}

	/** The lines, or parts of them, that came out of a chunk. */
	push(chunk: Uint8Array): Uint8Array {
		this.#out = Buffer.allocUnsafe(2 * chunk.length + 1);
		this.#length = 0;
		for (const byte of chunk) {
			if (this.#inside !== 0) this.#takeString(byte);
			else if (byte === quote || byte === apostrophe) {
				this.#inside = byte;
				this.#write(quote);
			} else if (opened[byte] !== 0) this.#open(byte);
			else if (closed[byte] !== 0) this.#close(byte);
			else this.#write(Math.max(byte, 0x20));
		}

		return this.#out.subarray(0, this.#length);
	}

	/** Nothing outside of frames is written. */
	#write(byte: number): void {
		if (this.#inFrame) this.#out[this.#length++] = byte;
	}

	#takeString(byte: number): void {
		this.#write(byte === this.#inside && !this.#isEscaped ? quote : Math.max(byte, 0x20));
		if (this.#isEscaped) this.#isEscaped = false;
		else if (byte === backslash) this.#isEscaped = true;
		else if (byte === this.#inside) this.#inside = 0;
	}

	#open(byte: number): void {
		const {length} = this.#stack;
		if (length === this.#depth && this.#stack.at(-1) !== 0x7b) this.#inFrame = true;
		if (length < mostDepth) this.#stack.push(byte);
		this.#write(opened[byte]);
	}

	#close(byte: number): void {
		this.#stack.pop();
		this.#write(closed[byte]);
		if (this.#stack.length > this.#depth) return;
		this.#write(lineFeed);
		this.#inFrame = false;
	}
}
