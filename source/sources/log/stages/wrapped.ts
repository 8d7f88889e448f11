import type {LeftOut} from '../../../stream/intake.ts';
import type {LineStage, StageFinder} from './line-stage.ts';
import {breakMark} from './omissions.ts';

const longestJoined = 8192;

/** A window that was so many characters wide is taken for one where so many lines have just that length. */
const leastWide = 3;
const leastShare = 0.2;
const leastWidth = 16;
const leastRows = 6;

/** Pieces that one frame is cut into by the narrowest window. */
const mostPieces = 6;

/** A time at the very front of a line, behind which what is on the line begins. */
const stamp = /^\s*\[?(?:(?:\d{4}-\d\d-\d\d[T ])?\d{1,2}:\d\d:\d\d(?:[.,]\d+)?Z?|\d+\.\d+)\]?\s*(?:->|\||:|;)?\s+/;

function numbersOf(line: string): number {
	return line.match(/(?<![A-Za-z_])[+-]?\d+(?:\.\d+)?/g)?.length ?? 0;
}

/** Lines that are as long as a window was wide go on in the next one. */
class JoinedAtWidth implements LineStage {
	#lines = 0;
	#held = '';
	readonly #width: number;

	constructor(width: number) {
		this.#width = width;
	}

	take(line: string, pass: (line: string) => void): void {
		if (line.length === this.#width && this.#held.length < longestJoined) {
			this.#held += line;
			this.#lines++;
			return;
		}

		const whole = this.#held + line;
		this.#held = '';
		pass(whole);
	}

	end(pass: (line: string) => void): void {
		if (this.#held !== '') pass(this.#held);
		this.#held = '';
	}

	get told(): LeftOut | undefined {
		return this.#lines === 0
			? undefined
			: {what: `line breaks of a window ${this.#width} characters wide`, lines: this.#lines};
	}
}

/** Lines wrapped at a width: joined they have all one count of values, as they stand they have not. */
export const findWidth: StageFinder = sample => {
	const lengths = new Map<number, number>();
	let longest = 0;
	for (const line of sample) {
		lengths.set(line.length, (lengths.get(line.length) ?? 0) + 1);
		if (numbersOf(line) > 1) longest = Math.max(longest, line.length);
	}

	const wide = lengths.get(longest) ?? 0;
	if (longest < leastWidth || wide < leastWide || wide < leastShare * sample.length || wide > 0.95 * sample.length)
		return undefined;
	const before = mostCommonShare(sample.map(numbersOf));
	const joined: string[] = [];
	const stage = new JoinedAtWidth(longest);
	for (const line of sample) stage.take(line, one => joined.push(one));
	const after = mostCommonShare(joined.slice(1).map(numbersOf));
	// Most lines went on in the next one; lines that happen to be as long as each other do not end with a shorter one.
	const wrapped = joined.filter(line => line.length > longest && line.length <= mostPieces * longest).length;
	if (wrapped < 0.6 * joined.length) return undefined;
	return joined.length >= leastRows && after > 0.9 && before < 0.9 ? new JoinedAtWidth(longest) : undefined;
};

function mostCommonShare(counts: readonly number[]): number {
	const tally = new Map<number, number>();
	for (const count of counts) tally.set(count, (tally.get(count) ?? 0) + 1);
	return Math.max(0, ...tally.values()) / Math.max(1, counts.length);
}

/** The form of a line: what stands between its numbers, labels included. */
function formOf(line: string): string {
	return line
		.replaceAll(/[+-]?\d+(?:\.\d+)?/g, '0')
		.replaceAll(/\s+/g, ' ')
		.trim();
}

/** One frame over two or three lines that come by turns: each turn has a form of its own. */
class JoinedByTurns implements LineStage {
	#lines = 0;
	#held: string[] = [];
	readonly #forms: readonly string[];
	readonly #stamped: boolean;

	constructor(forms: readonly string[], stamped: boolean) {
		this.#forms = forms;
		this.#stamped = stamped;
	}

	take(line: string, pass: (line: string) => void): void {
		const form = formOf(this.#stamped ? line.replace(stamp, '') : line);
		if (form === this.#forms[this.#held.length]) {
			this.#held.push(line);
			if (this.#held.length === this.#forms.length) {
				this.#lines += this.#held.length;
				this.#release(pass);
			}

			return;
		}

		// A part is missing: what there is of this frame is no frame.
		for (const part of this.#held.splice(0)) pass(part);
		if (form === this.#forms[0]) this.#held.push(line);
		else pass(line);
	}

	end(pass: (line: string) => void): void {
		for (const part of this.#held.splice(0)) pass(part);
	}

	#release(pass: (line: string) => void): void {
		const [first, ...rest] = this.#held.splice(0);
		const joiner = /[,;|\t]\s*$/.test(first) ? '' : (/\d([,;|\t]) ?[+-]?\d/.exec(first)?.[1] ?? ' ');
		pass([first, ...rest.map(line => (this.#stamped ? line.replace(stamp, '') : line).trimStart())].join(joiner));
	}

	get told(): LeftOut | undefined {
		return this.#lines === 0
			? undefined
			: {what: `line breaks inside frames (${this.#forms.length} lines to a frame)`, lines: this.#lines};
	}
}

export const findTurns: StageFinder = sample => {
	const lines = sample.filter(line => line.trim() !== '' && line !== breakMark);
	if (lines.length < 2 * leastRows) return undefined;
	const stamped = lines.filter(line => stamp.test(line)).length > 0.9 * lines.length;
	const forms = lines.map(line => formOf(stamped ? line.replace(stamp, '') : line));
	for (const turns of [2, 3]) {
		// Begun anywhere in a turn: the first part is the one with more in it, or the one that comes first.
		const from = Math.min(lines.length >> 1, lines.length - 2 * turns);
		const cycle = forms.slice(from, from + turns);
		if (new Set(cycle).size !== turns || cycle.some(form => !form.includes('0') || hasRemark(form))) continue;
		const keeps = forms.filter((form, i) => form === cycle[(((i - from) % turns) + turns) % turns]).length;
		if (keeps < 0.9 * lines.length) continue;
		const firstForm = forms[0];
		const start = cycle.indexOf(firstForm);
		const rotated = start < 0 ? cycle : [...cycle.slice(start), ...cycle.slice(0, start)];
		return new JoinedByTurns(startWithHead(rotated), stamped);
	}

	return undefined;
};

/** Words that are no labels: somebody's remark in a table, a message between frames. */
function hasRemark(form: string): boolean {
	return form.includes('"') || /[A-Za-z](?![\w.-]*\s*[:=0-9])/.test(form);
}

/** A log that begins in the middle of a frame: a part that ends in a separator is no last one. */
function startWithHead(cycle: string[]): string[] {
	const last = cycle.at(-1)!;
	if (!/[,;|]$/.test(last)) return cycle;
	const end = cycle.findIndex(form => !/[,;|]$/.test(form));
	return end < 0 ? cycle : [...cycle.slice(end + 1), ...cycle.slice(0, end + 1)];
}
