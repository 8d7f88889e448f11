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
	const stack: string[] = [];
	/** Containers that ended at each depth, and how many of those stand in an array, hold two numbers, or span lines. */
	const ended = new Array<number>(mostDepth).fill(0);
	const inArray = new Array<number>(mostDepth).fill(0);
	const begunAt: number[] = [];
	let spans = false;
	let lastEnd = -1;
	let numbers = 0;
	for (let at = 0; at < text.length; at++) {
		const character = text[at];
		if (character === '"' || character === "'") {
			const close = endOfString(text, at);
			if (close < 0) break;
			at = close;
		} else if (openers.includes(character)) {
			if (stack.length === 0 && lastEnd >= 0 && !text.slice(lastEnd, at).includes('\n')) spans = true;
			stack.push(character);
			begunAt.push(at);
			if (stack.length >= mostDepth) return undefined;
		} else if (closers.includes(character)) {
			const open = stack.pop();
			const from = begunAt.pop();
			if (open === undefined || from === undefined || openers.indexOf(open) !== closers.indexOf(character))
				return undefined;
			const depth = stack.length;
			ended[depth]++;
			if (depth === 0) {
				lastEnd = at;
				if (text.slice(from, at).includes('\n')) spans = true;
			} else if (stack[depth - 1] !== '{' && /\d[^\d]+\d/.test(text.slice(from, at))) inArray[depth]++;
		} else if (/\d/.test(character)) numbers++;
		else if (!plain.test(character)) return undefined;
		else if (stack.length === 0 && !/[\s,]/.test(character)) return undefined;
	}

	if (numbers === 0) return undefined;
	if (ended[0] >= leastFrames) return spans ? {depth: 0} : undefined;
	const depth = inArray.findIndex(count => count >= leastFrames);
	return depth > 0 ? {depth} : undefined;
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
	const stack: number[] = [];
	let inside = 0;
	let escaped = false;
	/** Depth at which the frame under way began, or −1. */
	let frameAt = -1;
	for await (const chunk of chunks) {
		const out = Buffer.allocUnsafe(2 * chunk.length + 1);
		let length = 0;
		for (const byte of chunk) {
			if (inside !== 0) {
				if (frameAt >= 0) out[length++] = byte === inside && !escaped ? quote : Math.max(byte, 0x20);
				if (escaped) escaped = false;
				else if (byte === backslash) escaped = true;
				else if (byte === inside) inside = 0;
				continue;
			}

			if (byte === quote || byte === apostrophe) {
				inside = byte;
				if (frameAt >= 0) out[length++] = quote;
				continue;
			}

			if (byte === 0x5b || byte === 0x7b || byte === 0x28) {
				if (frameAt < 0 && stack.length === depth && (depth === 0 || stack[depth - 1] !== 0x7b)) frameAt = depth;
				if (stack.length < mostDepth) stack.push(byte);
				if (frameAt >= 0) out[length++] = byte === 0x28 ? 0x5b : byte;
				continue;
			}

			if (byte === 0x5d || byte === 0x7d || byte === 0x29) {
				stack.pop();
				if (frameAt < 0) continue;
				out[length++] = byte === 0x29 ? 0x5d : byte;
				if (stack.length <= frameAt) {
					frameAt = -1;
					out[length++] = lineFeed;
				}

				continue;
			}

			if (frameAt >= 0) out[length++] = Math.max(byte, 0x20);
		}

		if (length > 0) yield out.subarray(0, length);
	}
}
