import {createContext} from 'react';
import type {ColorDepth} from './look.ts';
import {type Part, panelsOf} from './part.ts';
import {fitRow, type Row, sameRow, trimRow} from './rows.ts';
import {styledLine} from './tone-style.ts';

/** A finished line, and the columns it takes. */
type Line = {readonly text: string; readonly columns: number};

/** Unicode's private use area, which no text of ours or a glove's has a use for on a screen. */
const firstToken = 0xe0_00;
const tokens = /[\uE000-\uF8FF]/;

/** A row as text with its SGR sequences, without the blanks at its end. */
export function finishLine(fitted: Row, width: number, depth: ColorDepth): Line {
	const {row, columns} = trimRow(fitted, width);
	return {text: styledLine(row, depth), columns};
}

/**
 * The lines on the screen, kept out of Ink's way. Ink takes every character of a frame apart and puts it together
 * again, which is most of what a frame costs. It lays out one character for each line instead, once for each shape of
 * the screen, and the lines are put in their places as the frame goes out.
 */
export class LineBook {
	#lines: Line[] = [];
	#rows: Row[] = [];
	#widths: number[] = [];
	#depth: ColorDepth | undefined;

	/** What stands for a line in the frame; one column wide. */
	tokenFor(line: number): string {
		return String.fromCharCode(firstToken + line);
	}

	/** Takes in the lines of a part. True where any differs from those before. */
	fill(part: Part, depth: ColorDepth): boolean {
		const anew = depth !== this.#depth;
		this.#depth = depth;
		let changed = anew;
		let line = 0;
		for (const {rows, width, height} of panelsOf(part)) {
			for (let y = 0; y < height; y++, line++) {
				const row = rows[y] ?? [];
				// Most lines of a frame are those of the frame before.
				if (!anew && width === this.#widths[line] && sameRow(row, this.#rows[line])) continue;
				this.#rows[line] = row;
				this.#widths[line] = width;
				this.#lines[line] = finishLine(fitRow(row, width), width, depth);
				changed = true;
			}
		}

		return changed;
	}

	/** The frame with its lines in their places. */
	restore(frame: string): string {
		return frame
			.split('\n')
			.map(row => restoreRow(row, this.#lines))
			.join('\n');
	}
}

function restoreRow(row: string, lines: readonly Line[]): string {
	if (!tokens.test(row)) return row;
	let restored = '';
	let width = 0;
	for (let column = 0; column < row.length; column++) {
		const line = lines[row.charCodeAt(column) - firstToken];
		if (line === undefined || line.columns === 0) continue;
		restored += ' '.repeat(Math.max(0, column - width)) + line.text;
		width = column + line.columns;
	}

	return restored;
}

/** Where lines are kept; without one, Ink gets the lines themselves. */
export const LineBookContext = createContext<LineBook | null>(null);
