import {blankCell, type Cell, rowCells, sameCell} from './cells.ts';
import type {Look} from './look.ts';
import type {Panel} from './part.ts';
import {type Row, sameRow} from './rows.ts';

/** A panel, and where its upper left corner stands: column and row from 0. */
export type PlacedPanel = {readonly panel: Panel; readonly x: number; readonly y: number};

/** A row as it was given, and its cells. */
type Line = {readonly row: Row; readonly width: number; readonly cells: readonly Cell[]};

/** What stands in one line of the screen: pieces of panels, from left to right. */
type Pieces = readonly {readonly x: number; readonly cells: readonly Cell[]}[];

const csi = '\u001B[';

/** Unchanged cells between two changes that are cheaper to write again than to step over (a step is 6 to 9 bytes). */
const gapColumns = 5;

/**
 * Turns panels of rows into the fewest bytes that make a terminal show them. Works on cells, not on lines: a number that
 * changes costs its digits, not its line, which is what a serial console or a phone over SSH has to carry. Every run
 * starts with an absolute position, so that a character that is wider on the terminal than here displaces nothing
 * after it, and nothing is assumed of where the cursor was.
 */
export class ScreenPainter {
	readonly #look: Look;
	/** By panel. Most rows of a frame are those of the frame before. */
	#lines: Line[][] = [];
	#pieces: Pieces[] = [];
	#cells: (readonly Cell[])[] = [];
	#stale = true;

	constructor(look: Look) {
		this.#look = look;
	}

	/** The screen no longer shows what was painted: the next frame is painted in full, on a cleared screen. */
	forget(): void {
		this.#stale = true;
	}

	/** The bytes that turn what is on the screen into these panels. Empty where nothing changes. */
	paint(panels: readonly PlacedPanel[]): string {
		const out: string[] = [];
		if (this.#stale) {
			out.push(`${csi}0m${csi}2J`);
			this.#pieces = [];
			this.#cells = [];
			this.#stale = false;
		}

		const screen = this.#layOut(panels);
		for (let y = 0; y < Math.max(screen.length, this.#cells.length); y++) {
			const pieces = screen[y] ?? [];
			if (samePieces(pieces, this.#pieces[y])) continue;
			const cells = joined(pieces);
			paintLine(out, y, this.#cells[y] ?? [], cells);
			this.#pieces[y] = pieces;
			this.#cells[y] = cells;
		}

		this.#pieces.length = screen.length;
		this.#cells.length = screen.length;
		return out.join('');
	}

	#layOut(panels: readonly PlacedPanel[]): Pieces[] {
		const screen: {x: number; cells: readonly Cell[]}[][] = [];
		this.#lines = panels.map(({panel: {rows, width, height}, x, y}, index) => {
			const before = this.#lines[index] ?? [];
			return Array.from({length: height}, (_, line) => {
				const row = rows[line] ?? [];
				const known = before[line];
				const kept = known !== undefined && known.width === width && sameRow(row, known.row);
				const drawn = kept ? known : {row, width, cells: rowCells(row, width, this.#look)};
				while (screen.length <= y + line) screen.push([]);
				if (drawn.cells.length > 0) screen[y + line].push({x, cells: drawn.cells});
				return drawn;
			});
		});
		return screen;
	}
}

function samePieces(a: Pieces, b: Pieces | undefined): boolean {
	return (
		b !== undefined && a.length === b.length && a.every((piece, i) => piece.x === b[i].x && piece.cells === b[i].cells)
	);
}

/** The cells of a line, with blanks between its pieces. */
function joined(pieces: Pieces): readonly Cell[] {
	if (pieces.length === 1 && pieces[0].x === 0) return pieces[0].cells;
	const line: Cell[] = [];
	let column = 0;
	for (const {x, cells} of pieces) {
		for (; column < x; column++) line.push(blankCell);
		for (const cell of cells) {
			line.push(cell);
			column += cell.width;
		}
	}

	return line;
}

function paintLine(out: string[], y: number, before: readonly Cell[], cells: readonly Cell[]): void {
	const odd = (cell: Cell) => !cell.sure;
	if (before.some(odd) || cells.some(odd)) {
		// Terminals differ in how wide such characters are. Clear the line, and say anew where to go on after each.
		out.push(`${csi}${y + 1}H${csi}0m${csi}2K`);
		writeCells(out, y, 0, cells);
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

		writeCells(out, y, x, cells.slice(x, end));
		x = end;
	}

	if (before.length > cells.length) out.push(`${csi}${y + 1};${cells.length + 1}H${csi}K`);
}

function writeCells(out: string[], y: number, start: number, cells: readonly Cell[]): void {
	let style = '';
	let column = start;
	let placed = false;
	for (const cell of cells) {
		if (!placed) {
			out.push(column === 0 ? `${csi}${y + 1}H` : `${csi}${y + 1};${column + 1}H`);
			placed = true;
		}

		if (cell.style !== style) {
			out.push(cell.style === '' ? `${csi}m` : style === '' ? `${csi}${cell.style}m` : `${csi}0;${cell.style}m`);
			style = cell.style;
		}

		out.push(cell.text);
		column += cell.width;
		placed = cell.sure;
	}

	if (style !== '') out.push(`${csi}m`);
}
