import {bytesToText, type LineTokens, maxValues} from './line-tokens.ts';
import {plainDialect, reading, readValue} from './read-value.ts';

const quote = 0x22;
const backslash = 0x5c;
const maxDepth = 32;

/** Reads one JSON text, keeping where its values stand. A class only to carry the position through the recursion. */
class JsonWalker {
	readonly values: number[] = [];
	readonly starts: number[] = [];
	readonly ends: number[] = [];
	readonly paths: string[] = [];
	private readonly bytes: Uint8Array;
	private readonly end: number;
	private at: number;

	constructor(bytes: Uint8Array, start: number, end: number) {
		this.bytes = bytes;
		this.at = start;
		this.end = end;
	}

	/** False where the line is no single JSON object or array. */
	walk(): boolean {
		if (!this.value('', 0)) return false;
		this.blanks();
		return this.at === this.end;
	}

	private blanks(): void {
		while (this.at < this.end && (this.bytes[this.at] === 0x20 || this.bytes[this.at] === 0x09)) this.at++;
	}

	private take(character: string): boolean {
		this.blanks();
		if (this.at >= this.end || this.bytes[this.at] !== character.charCodeAt(0)) return false;
		this.at++;
		return true;
	}

	private value(path: string, depth: number): boolean {
		this.blanks();
		if (depth > maxDepth || this.at >= this.end) return false;
		const byte = this.bytes[this.at];
		if (byte === 0x7b) return this.container(path, depth, true);
		if (byte === 0x5b) return this.container(path, depth, false);
		if (byte === quote) return this.quoted(path);
		if (depth === 0) return false;
		const after = readValue(this.bytes, this.at, this.end, plainDialect);
		if (after < 0 || reading.isTime) return false;
		this.note(path, this.at, after);
		this.at = after;
		return true;
	}

	private container(path: string, depth: number, named: boolean): boolean {
		this.at++;
		const close = named ? '}' : ']';
		if (this.take(close)) return true;
		for (let i = 0; ; i++) {
			let name = String(i);
			if (named) {
				this.blanks();
				const nameStart = this.at + 1;
				if (!this.skipString() || !this.take(':')) return false;
				name = bytesToText(this.bytes, nameStart, this.bytes.indexOf(quote, nameStart));
			}

			if (!this.value(path === '' ? name : `${path}.${name}`, depth + 1)) return false;
			if (this.take(close)) return true;
			if (!this.take(',')) return false;
		}
	}

	/** A number in quotes is a reading too; any other string is text. */
	private quoted(path: string): boolean {
		const start = this.at + 1;
		if (!this.skipString()) return false;
		const after = readValue(this.bytes, start, this.at - 1, plainDialect);
		if (after === this.at - 1 && !reading.isTime) this.note(path, start, after);
		return true;
	}

	private skipString(): boolean {
		if (this.bytes[this.at] !== quote) return false;
		for (this.at++; this.at < this.end; this.at++) {
			if (this.bytes[this.at] === backslash) this.at++;
			else if (this.bytes[this.at] === quote) {
				this.at++;
				return true;
			}
		}

		return false;
	}

	private note(path: string, start: number, end: number): void {
		this.values.push(reading.value);
		this.starts.push(start);
		this.ends.push(end);
		this.paths.push(path);
	}
}

/**
 * Takes a line that is one JSON object (or an array with objects in it) apart: numbers, booleans as 0 and 1, `null` as
 * NaN, numbers in quotes, each with its path. Undefined where the line is none, or holds no value. `nan` and numbers
 * with a leading plus or zero are taken too, which RFC 8259 forbids and firmware prints.
 */
export function readJsonLine(bytes: Uint8Array, start: number, end: number): LineTokens | undefined {
	let first = start;
	while (first < end && (bytes[first] === 0x20 || bytes[first] === 0x09)) first++;
	if (bytes[first] !== 0x7b && !(bytes[first] === 0x5b && bytes.subarray(first, end).includes(0x7b))) return undefined;
	const walker = new JsonWalker(bytes, start, end);
	if (!walker.walk() || walker.values.length === 0 || walker.values.length > maxValues) return undefined;
	const {values, starts, ends, paths} = walker;
	const literals: string[] = [];
	let at = start;
	for (let i = 0; i < values.length; i++) {
		literals.push(bytesToText(bytes, at, starts[i]));
		at = ends[i];
	}

	literals.push(bytesToText(bytes, at, end));
	return {values, starts, ends, literals, paths, times: values.map(() => false)};
}
