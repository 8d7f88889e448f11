import {meanOf} from '../../../math/sums.ts';
import type {LeftOut} from '../../../stream/intake.ts';
import type {LineStage, StageFinder} from './line-stage.ts';

const leastRows = 8;
const leastHalf = 4;
const number = /[+-]?\d+(?:\.\d+)?(?:e[+-]?\d+)?/gi;

/** Share of the rows that must be two frames for the log to be one of such rows. */
const leastShare = 0.9;

/** Halves of one line that are the same channels a frame later differ by no more of their range than this, in the mean. */
const mostStep = 0.12;
/** Levels are apart by so many of the range of all values where halves are other channels. */
const leastOffset = 0.02;

type Row = {readonly values: readonly number[]; readonly cut: number};

/** Where the first frame of a line ends and the second begins. */
type Cut = readonly [end: number, start: number];

/** Two frames stand on one line: it is cut where `cutOf` says; where that says nothing it stays. */
class CutInTwo implements LineStage {
	#lines = 0;
	readonly #cutOf: (line: string) => Cut | undefined;

	constructor(cutOf: (line: string) => Cut | undefined) {
		this.#cutOf = cutOf;
	}

	take(line: string, pass: (line: string) => void): void {
		const cut = this.#cutOf(line);
		if (cut === undefined) {
			pass(line);
			return;
		}

		this.#lines++;
		pass(line.slice(0, cut[0]));
		pass(line.slice(cut[1]));
	}

	get told(): LeftOut | undefined {
		return this.#lines === 0 ? undefined : {what: 'lines with two frames each, cut in two', lines: this.#lines};
	}
}

/** The cut before the second frame; what parts the two belongs to neither. */
function cutBefore(line: string, start: number): Cut {
	return [line.slice(0, start).replace(/[\s,;|]+$/, '').length, start];
}

/** The values of a line of plain numbers with an even count of them, and where the second half begins. */
function rowOf(line: string): Row | undefined {
	if (/[A-Za-z{}:]/.test(line.replace(/\de[+-]?\d/gi, '0'))) return undefined;
	const matches = [...line.matchAll(number)];
	if (matches.length < 2 * leastHalf || matches.length % 2 === 1) return undefined;
	return {values: matches.map(([text]) => Number(text)), cut: matches[matches.length / 2].index};
}

/** A label with its mark, `thumb:512` or `"button-1": 0`; and one that its number follows at once, `T512`. */
const marked = /([A-Za-z_][\w.-]*)["']?\s*[:=]\s*["']?[+-]?\d/g;
const unmarked = /([A-Za-z_]+)[+-]?\d/g;

/** Where the second frame of a labelled line begins: every label comes twice, the second half in the order of the first. */
function secondHalf(line: string): number | undefined {
	const labels = [...line.matchAll(/[:=]/.test(line) ? marked : unmarked)];
	const half = labels.length / 2;
	if (labels.length < 4 || labels.length % 2 === 1) return undefined;
	for (let i = 0; i < half; i++) if (labels[i][1] !== labels[i + half][1]) return undefined;
	return labels[half].index;
}

/** What stands between the numbers of a line, labels included; blanks in a row are one. */
function formOf(line: string): string {
	return line.trim().replaceAll(number, '0').replaceAll(/\s+/g, ' ');
}

/** What may stand between two frames that a window or a table has put on one line; nothing at all is a lost line end. */
const betweenFrames = /^\s*[,;|]?\s*$/;

/** The cut of a line that is two frames of the log's usual form, of `count` values, with a sign between them. */
function cutOfTwo(line: string, usual: string, count: number): Cut | undefined {
	if (line.length <= 2 * usual.length) return undefined;
	const form = formOf(line);
	if (form.length <= 2 * usual.length || !form.startsWith(usual) || !form.endsWith(usual)) return undefined;
	if (!betweenFrames.test(form.slice(usual.length, -usual.length))) return undefined;
	const values = [...line.matchAll(number)];
	if (values.length !== 2 * count) return undefined;
	const last = values[count - 1];
	const end = last.index + last[0].length + tailOf(usual).length;
	const gap = /^\s*[,;|]?\s*/.exec(line.slice(end))?.[0].length ?? 0;
	return [end, end + gap];
}

/** What stands behind the last value of a form: a bracket, a unit. */
function tailOf(form: string): string {
	return form.slice(form.lastIndexOf('0') + 1);
}

const leastUsual = 0.5;

/** A window or a table now and then puts two frames on a line. */
function findNowAndThen(sample: readonly string[]): LineStage | undefined {
	const forms = sample.map(formOf);
	const tally = new Map<string, number>();
	for (const form of forms) tally.set(form, (tally.get(form) ?? 0) + 1);
	const [usual, times] = [...tally].sort((a, b) => b[1] - a[1])[0] ?? ['', 0];
	const count = usual.split('0').length - 1;
	if (times < leastRows || times < leastUsual * sample.length || count < leastHalf) return undefined;
	const cutOf = (line: string) => cutOfTwo(line, usual, count);
	return sample.some(line => cutOf(line) !== undefined) ? new CutInTwo(cutOf) : undefined;
}

export const findDoubled: StageFinder = sample => {
	const labelled = sample.filter(line => secondHalf(line) !== undefined).length;
	if (labelled >= leastRows && labelled >= leastShare * sample.length)
		return new CutInTwo(line => {
			const start = secondHalf(line);
			return start === undefined ? undefined : cutBefore(line, start);
		});
	const rows = sample.flatMap(line => rowOf(line) ?? []);
	const count = rows[rows.length >> 1]?.values.length ?? 0;
	const own = rows.filter(row => row.values.length === count);
	if (
		own.length >= leastRows &&
		own.length >= leastShare * sample.length &&
		isOneGloveTwice(own.map(({values}) => values))
	)
		return new CutInTwo(line => {
			const row = rowOf(line);
			return row?.values.length === count ? cutBefore(line, row.cut) : undefined;
		});
	return findNowAndThen(sample);
};

/**
 * Whether the second half of each row is the first one a frame later. Every channel then lies as near to its twin on the
 * line as to the twin on the line before; two hands have other levels, and move by themselves.
 */
function isOneGloveTwice(rows: readonly (readonly number[])[]): boolean {
	const half = rows[0].length / 2;
	let lowest = Number.POSITIVE_INFINITY;
	let highest = Number.NEGATIVE_INFINITY;
	for (const row of rows) {
		for (const value of row) {
			lowest = Math.min(lowest, value);
			highest = Math.max(highest, value);
		}
	}

	const range = highest - lowest;
	if (range <= 0) return false;
	let levels = 0;
	for (let i = 0; i < half; i++) {
		let within = 0;
		let across = 0;
		for (const [n, row] of rows.entries()) {
			within += Math.abs(row[i + half] - row[i]);
			if (n > 0) across += Math.abs(row[i] - rows[n - 1][i + half]);
		}

		within /= rows.length;
		across /= Math.max(1, rows.length - 1);
		if (within > mostStep * range || across > mostStep * range) return false;
		// A frame later a channel is no further off than the frame after that, but for chance.
		if (within > 3 * across + leastOffset * range) return false;
		levels += Math.abs(row0(rows, i) - row0(rows, i + half)) / range;
	}

	// Channels of one half that all lie alike tell nothing: a resting hand of equal levels might be two.
	const spread = Math.max(...rows[0].slice(0, half)) - Math.min(...rows[0].slice(0, half));
	return levels / half <= leastOffset && spread > 4 * leastOffset * range;
}

/** Mean level of a column. */
function row0(rows: readonly (readonly number[])[], column: number): number {
	return meanOf(rows.map(row => row[column]));
}
