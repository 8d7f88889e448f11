import type {ColumnWatch} from './column-watch.ts';
import {type Candidate, otherBoards} from './find-text-layout.ts';
import {readHeader} from './header-line.ts';
import type {HeldLine, LineShape} from './line-shape.ts';
import {bytesToText} from './line-tokens.ts';
import {readByLabels, type TextLayout, toTextLayout} from './text-layout.ts';

/**
 * From a number that lost digits to the next whole one is a leap: more than so many times the longest step between later lines
 * (common practice, no source: a hand that sets out goes a few times as far as in the frames before).
 */
const leapsOfACut = 5;

/** Lines of a hand at rest hardly differ; their longest step counts as at least so much, in units of the number. */
const leastStep = 10;

/** A line of the layout that is settled on, read its way. */
type Member = {readonly line: HeldLine; readonly shape: LineShape};

/** A text layout and the lines that settle it, in the order of the stream. */
type Settling = {
	readonly text: TextLayout;
	readonly members: readonly Member[];
	/** Lines before the first frame, without a frame that lacks its front. */
	readonly before: readonly HeldLine[];
	/** Lines from the first frame on. */
	readonly lines: readonly HeldLine[];
	/** From the last header before the first frame, where the frames have no labels. */
	readonly headerNames: readonly string[] | null;
	/** The frames', else a header's. */
	readonly unit: string | null;
	/** Keys of the shapes of another board's lines. */
	readonly others: readonly string[];
};

/** Makes a layout of a shape found among lines; `forcedCount` is the number of columns that the user gave, or 0. */
export function readSettling(candidates: readonly Candidate[], shape: LineShape, forcedCount: number): Settling {
	const text = toTextLayout(shape, forcedCount);
	const members: Member[] = [];
	for (const {line, shapes} of candidates) {
		const own = shapes.find(other => other.key === shape.key);
		if (own !== undefined) members.push({line, shape: own});
	}

	const isCut = members.length > 2 && isCutInFront(members.map(member => member.shape));
	const cut = isCut && members[0].line.isFirst ? members[0].line : null;
	const first = members[cut === null ? 0 : 1].line;
	const held = candidates.map(({line}) => line);
	const before = held.filter(line => line.offset < first.offset);
	return {
		text,
		members,
		before: before.filter(line => line !== cut),
		lines: held.filter(line => line.offset >= first.offset),
		...readHeaders(before, text),
		others: forcedCount > 0 ? [] : otherBoards(candidates, shape.key),
	};
}

/** Shows a watch what the lines that settle a layout tell of its columns, by way of `values`. */
export function showColumns({text, members, lines}: Settling, values: Float64Array, watch: ColumnWatch): void {
	for (const {line, shape} of members) {
		if (text.template === null || line.offset < lines[0].offset) continue;
		// In the layout's order: by labels where it has them.
		if (!readByLabels(text, line.bytes, values)) values.set(shape.tokens.values);
		watch.take(line.t, values);
	}

	for (let column = 0; column < text.count; column++) {
		if (members.every(({line, shape}) => hasDecimals(line, shape, column))) watch.kinds.notePrinted(column);
	}
}

function readHeaders(before: readonly HeldLine[], text: TextLayout): Pick<Settling, 'headerNames' | 'unit'> {
	let headerNames: readonly string[] | null = null;
	let {unit} = text;
	if (text.labels.some(label => label !== null)) return {headerNames, unit};
	for (const {bytes} of before) {
		const header = readHeader(bytes, text.separator, text.count);
		if (header === undefined) continue;
		headerNames = header.names;
		unit ??= header.unit;
	}

	return {headerNames, unit};
}

/** Whether a value is written with a decimal point or comma. */
function hasDecimals({bytes}: HeldLine, {tokens, dialect}: LineShape, column: number): boolean {
	const sign = dialect.decimalComma ? ',' : '.';
	return bytesToText(bytes, tokens.starts[column] ?? 0, tokens.ends[column] ?? 0).includes(sign);
}

/**
 * Whether the first of these lines lacks the front of its first number: fewer digits than in any other line, and a leap
 * to the next line that no later line comes near.
 */
function isCutInFront(shapes: readonly LineShape[]): boolean {
	// With a label or bracket before it the number has its front.
	if (shapes[0].tokens.literals[0] !== '') return false;
	const digits = shapes.map(({tokens}) => tokens.ends[0] - tokens.starts[0]);
	const [first, ...later] = shapes.map(({tokens}) => tokens.values[0]);
	// So it has with its sign.
	if (first < 0 || digits[0] >= Math.min(...digits.slice(1))) return false;
	const longestStep = Math.max(0, ...later.slice(1).map((value, i) => Math.abs(value - later[i])));
	return later[0] - first > leapsOfACut * Math.max(leastStep, longestStep);
}
