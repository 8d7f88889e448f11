import {escapeText} from '../text/escape-text.ts';
import {charactersOf, plainText, textWidth} from '../text/text-width.ts';

/** One character: its text, the SGR parameters it stands in, its columns, and whether every terminal agrees on those. */
type Cell = {readonly text: string; readonly style: string; readonly width: number; readonly sure: boolean};

const csi = '\u001B[';

/** Unchanged cells between two changes that are cheaper to write again than to step over (a step is 6 to 9 bytes). */
const gapColumns = 5;

/**
 * Turns whole frames into the fewest bytes that make a terminal show them. Works on cells, not on lines: a number that
 * changes costs its digits, not its line, which is what a serial console or a phone over SSH has to carry. Every run
 * starts with an absolute position, so that a character that is wider on the terminal than here displaces nothing
 * after it, and nothing is assumed of where the cursor was.
 *
 * Lines hold text and SGR sequences only; any other control character, and what hides or reorders text, is shown as `?`, a
 * last guard behind the escaping of device text.
 */
export class ScreenPainter {
	#lines: readonly string[] = [];
	#cells: (readonly Cell[])[] = [];
	#stale = true;

	/** The screen no longer shows what was painted: the next frame is painted in full, on a cleared screen. */
	forget(): void {
		this.#stale = true;
	}

	/** The bytes that turn what is on the screen into `frame` (lines separated by `\n`). Empty where nothing changes. */
	paint(frame: string): string {
		const lines = frame.split('\n');
		const pieces: string[] = [];
		if (this.#stale) {
			pieces.push(`${csi}0m${csi}2J`);
			this.#lines = [];
			this.#cells = [];
			this.#stale = false;
		}

		const painted: (readonly Cell[])[] = [];
		for (let y = 0; y < Math.max(lines.length, this.#lines.length); y++) {
			const line = lines[y] ?? '';
			const before = this.#cells[y] ?? [];
			if (line === this.#lines[y]) {
				painted.push(before);
				continue;
			}

			const cells = parseCells(line);
			paintLine(pieces, y, before, cells);
			painted.push(cells);
		}

		painted.length = lines.length;
		this.#lines = lines;
		this.#cells = painted;
		return pieces.join('');
	}
}

function paintLine(pieces: string[], y: number, before: readonly Cell[], cells: readonly Cell[]): void {
	const odd = (cell: Cell) => !cell.sure;
	if (before.some(odd) || cells.some(odd)) {
		// Terminals differ in how wide such characters are. Clear the line, and say anew where to go on after each.
		pieces.push(`${csi}${y + 1}H${csi}0m${csi}2K`);
		writeCells(pieces, y, 0, cells);
		return;
	}

	let x = 0;
	while (x < cells.length) {
		if (sameCell(before[x], cells[x])) {
			x++;
			continue;
		}

		// The run of changes from here: it ends where enough cells in a row stay as they are.
		let end = x + 1;
		for (let scan = end, same = 0; scan < cells.length && same <= gapColumns; scan++) {
			if (sameCell(before[scan], cells[scan])) same++;
			else {
				same = 0;
				end = scan + 1;
			}
		}

		writeCells(pieces, y, x, cells.slice(x, end));
		x = end;
	}

	if (before.length > cells.length) pieces.push(`${csi}${y + 1};${cells.length + 1}H${csi}K`);
}

function writeCells(pieces: string[], y: number, start: number, cells: readonly Cell[]): void {
	let style = '';
	let column = start;
	let placed = false;
	for (const cell of cells) {
		if (!placed) {
			pieces.push(column === 0 ? `${csi}${y + 1}H` : `${csi}${y + 1};${column + 1}H`);
			placed = true;
		}

		if (cell.style !== style) {
			pieces.push(cell.style === '' ? `${csi}m` : style === '' ? `${csi}${cell.style}m` : `${csi}0;${cell.style}m`);
			style = cell.style;
		}

		pieces.push(cell.text);
		column += cell.width;
		placed = cell.sure;
	}

	if (style !== '') pieces.push(`${csi}m`);
}

function sameCell(a: Cell | undefined, b: Cell | undefined): boolean {
	return a !== undefined && b !== undefined && a.text === b.text && a.style === b.style;
}

const sgr = /\u001B\[([\d;]*)m/g;

/** A line as cells. Trailing blanks without a style are left out. */
export function parseCells(line: string): Cell[] {
	const cells: Cell[] = [];
	const style = new StyleState();
	let from = 0;
	for (const match of line.matchAll(sgr)) {
		pushText(cells, line.slice(from, match.index), style.parameters);
		style.apply(match[1]);
		from = match.index + match[0].length;
	}

	pushText(cells, line.slice(from), style.parameters);
	while (cells.length > 0 && cells.at(-1)!.text === ' ' && cells.at(-1)!.style === '') cells.pop();
	return cells;
}

function pushText(cells: Cell[], text: string, style: string): void {
	if (plainText.test(text)) {
		for (const character of text) cells.push({text: character, style, width: 1, sure: true});
		return;
	}

	for (const segment of charactersOf(text)) {
		const width = widthOf(segment);
		if (width < 0) cells.push({text: '?', style, width: 1, sure: true});
		else if (width > 0) cells.push({text: segment, style, width, sure: width === 1 && [...segment].length === 1});
	}
}

const widths = new Map<string, number>();

/**
 * Columns of a segment; -1 where no terminal must be sent it. Unicode's tables are slow to ask, and a dashboard draws the
 * same few characters over and over.
 */
function widthOf(segment: string): number {
	let width = widths.get(segment);
	if (width === undefined) {
		width = escapeText(segment) === segment ? textWidth(segment) : -1;
		if (widths.size > 5000) widths.clear();
		widths.set(segment, width);
	}

	return width;
}

/** The SGR state of a stream of text, as the parameters that set it up from nothing. */
class StyleState {
	#foreground = '';
	#background = '';
	readonly #attributes = new Set<string>();

	get parameters(): string {
		return [...[...this.#attributes].sort(), this.#foreground, this.#background].filter(Boolean).join(';');
	}

	apply(parameters: string): void {
		const codes = parameters === '' ? ['0'] : parameters.split(';');
		for (let index = 0; index < codes.length; index++) {
			const code = Number(codes[index]);
			if (code === 38 || code === 48) {
				const length = codes[index + 1] === '5' ? 3 : 5;
				const color = codes.slice(index, index + length).join(';');
				if (code === 38) this.#foreground = color;
				else this.#background = color;
				index += length - 1;
			} else if (code === 0) {
				this.#foreground = '';
				this.#background = '';
				this.#attributes.clear();
			} else if (code >= 1 && code <= 9) this.#attributes.add(String(code));
			else if (code === 22) {
				this.#attributes.delete('1');
				this.#attributes.delete('2');
			} else if (code >= 23 && code <= 29) this.#attributes.delete(String(code - 20));
			else if (code === 39) this.#foreground = '';
			else if (code === 49) this.#background = '';
			else if ((code >= 30 && code <= 37) || (code >= 90 && code <= 97)) this.#foreground = String(code);
			else if ((code >= 40 && code <= 47) || (code >= 100 && code <= 107)) this.#background = String(code);
		}
	}
}
