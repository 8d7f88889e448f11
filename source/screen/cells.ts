import {asciiText} from '../text/ascii-text.ts';
import {escapeText} from '../text/escape-text.ts';
import {charactersOf, plainText, textWidth} from '../text/text-width.ts';
import type {Look} from './look.ts';
import {fitRow, type Row, trimRow} from './rows.ts';
import {toneStyle} from './tone-style.ts';

/** One character: its text, the SGR parameters it stands in, its columns, and whether every terminal agrees on those. */
export type Cell = {readonly text: string; readonly style: string; readonly width: number; readonly sure: boolean};

export const blankCell: Cell = {text: ' ', style: '', width: 1, sure: true};

/**
 * A row as cells, of at most `width` columns, without the blanks at its end unless their tone shows. A control character,
 * and what hides or reorders text, becomes `?`: a last guard behind the escaping of device text.
 */
export function rowCells(row: Row, width: number, {ascii, colorDepth}: Look): readonly Cell[] {
	const sent = ascii ? row.map(piece => ({...piece, text: asciiText(piece.text)})) : row;
	const cells: Cell[] = [];
	for (const {text, tone = 'plain'} of trimRow(fitRow(sent, width), width).row) {
		pushText(cells, text, toneStyle(tone, colorDepth));
	}

	return cells;
}

/** Cells of printable ASCII by their style: nearly all that is drawn, and compared by being the same. */
const asciiCells = new Map<string, Cell[]>();

function pushText(cells: Cell[], text: string, style: string): void {
	const known = asciiCells.get(style) ?? [];
	if (known.length === 0) asciiCells.set(style, known);
	if (plainText.test(text)) {
		for (const character of text) {
			const code = character.charCodeAt(0);
			known[code] ??= {text: character, style, width: 1, sure: true};
			cells.push(known[code]);
		}

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
 * Columns of a segment; -1 where no terminal must be sent it. Unicode's tables are slow to ask, and a screen draws the
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

export function sameCell(a: Cell | undefined, b: Cell | undefined): boolean {
	return a === b || (a !== undefined && b !== undefined && a.text === b.text && a.style === b.style);
}
