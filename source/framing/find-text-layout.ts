import {ColumnWatch} from './column-watch.ts';
import type {HeldLine, LineShape} from './line-shape.ts';
import {readLabel} from './read-label.ts';

/** Lines kept while no layout is found. */
export const linesKept = 20;

/** Lines of one shape in a row that settle a layout: eight show seven steps, enough to tell a counter from a finger. */
const linesToSettle = 8;
/** Where labels or the user say what the columns are, fewer do. */
const labelledLinesToSettle = 5;
const forcedLinesToSettle = 3;

/** A stream that is over with fewer lines says nothing. */
const leastLines = 3;

/** While one column rises like a clock and could be a finger on its way. */
const undecidedLinesToSettle = 16;

/** Lines of `linesKept` that must agree where they never stand eight in a row: damage or a second board between them. */
const scatteredLinesToSettle = 7;

/** A held line with the ways to read it. */
export type Candidate = {readonly line: HeldLine; readonly shapes: readonly LineShape[]};

/** The layout found among the lines held, and the lines in it. */
export type Finding = {
	readonly shape: LineShape;
	readonly members: readonly {readonly line: HeldLine; readonly shape: LineShape}[];
};

/**
 * Looks for a layout among the lines held, the newest last. `forcedCount` is the number of columns that the user gave,
 * or 0. `last` takes what there is. Undefined while there is no telling.
 */
export function findTextLayout(held: readonly Candidate[], forcedCount: number, last: boolean): Finding | undefined {
	const newest = held[held.length - 1];
	if (newest === undefined) return undefined;
	for (const shape of newest.shapes) {
		const run = tailRun(held, shape.key);
		if (run.length >= linesNeeded(shape, run, forcedCount) && isBelievable(run)) return gather(held, shape);
	}

	if (!last && held.length < linesKept) return undefined;
	const best = mostFrequent(held);
	if (best === undefined) return undefined;
	const needed = last ? Math.max(leastLines, held.length / 2) : scatteredLinesToSettle;
	const finding = gather(held, best);
	return finding.members.length >= needed && isBelievable(finding.members.map(member => member.shape))
		? finding
		: undefined;
}

function linesNeeded(shape: LineShape, run: readonly LineShape[], forcedCount: number): number {
	const count = shape.tokens.values.length;
	if (forcedCount > 0) return count === forcedCount ? forcedLinesToSettle : linesToSettle;
	const {labels} = shape.description;
	const known = labels.filter(label => label !== null);
	if (known.length === count && known.every(label => isStrong(label, known))) {
		return labelledLinesToSettle;
	}

	if (run.length < linesToSettle || run.length >= undecidedLinesToSettle || known.length === count)
		return linesToSettle;
	const watch = new ColumnWatch(count);
	run.forEach((line, i) => {
		watch.take(i, Float64Array.from(line.tokens.values));
	});
	return watch.undecided ? undecidedLinesToSettle : linesToSettle;
}

function isStrong(label: string, all: readonly string[]): boolean {
	const meaning = readLabel(label, all);
	// A lone `t` may be the time as well as the thumb.
	return meaning !== undefined && meaning.weak !== true && !/^t$/i.test(label);
}

function shapeOf(candidate: Candidate, key: string): LineShape | undefined {
	return candidate.shapes.find(shape => shape.key === key);
}

function tailRun(held: readonly Candidate[], key: string): LineShape[] {
	const run: LineShape[] = [];
	for (let i = held.length - 1; i >= 0; i--) {
		const shape = shapeOf(held[i], key);
		if (shape === undefined) break;
		run.push(shape);
	}

	return run.reverse();
}

/** A dialect needs evidence in some line; one value with a word must change, or it is a message that is repeated. */
function isBelievable(run: readonly LineShape[]): boolean {
	if (!run.some(shape => shape.evident)) return false;
	const {tokens, description} = run[0];
	if (tokens.values.length > 1) return true;
	const worded = tokens.literals.some(literal => /[A-Za-z]/.test(literal));
	if (!worded || run.some(shape => shape.tokens.values[0] !== tokens.values[0])) return true;
	const label = description.labels[0];
	return label !== null && readLabel(label) !== undefined && /[:=]\s*$/.test(tokens.literals[0]);
}

function mostFrequent(held: readonly Candidate[]): LineShape | undefined {
	const counts: Record<string, number> = {};
	let best: LineShape | undefined;
	let bestCount = 0;
	for (const {shapes} of held) {
		for (const shape of shapes) {
			const count = (counts[shape.key] ?? 0) + 1;
			counts[shape.key] = count;
			const more = best === undefined || shape.tokens.values.length > best.tokens.values.length;
			// Of two boards with as many lines, the one with more columns is the glove.
			if (shape.evident && (count > bestCount || (count === bestCount && more))) {
				best = shape;
				bestCount = count;
			}
		}
	}

	return best;
}

function gather(held: readonly Candidate[], shape: LineShape): Finding {
	const members = held.flatMap(candidate => {
		const own = shapeOf(candidate, shape.key);
		return own === undefined ? [] : [{line: candidate.line, shape: own}];
	});
	return {shape, members};
}

/** Keys of other shapes that come so often among the lines held that another board must be sending them. */
export function otherBoards(held: readonly Candidate[], key: string): string[] {
	const counts: Record<string, number> = {};
	for (const candidate of held) {
		if (shapeOf(candidate, key) !== undefined) continue;
		for (const shape of candidate.shapes) counts[shape.key] = (counts[shape.key] ?? 0) + 1;
	}

	return Object.keys(counts).filter(other => counts[other] >= Math.max(4, held.length / 4));
}
