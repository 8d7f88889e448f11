import {asciiText} from '../text/ascii-text.ts';
import type {Look} from './look.ts';
import {type Part, panelsOf} from './part.ts';
import {fitRow, type Row, sameRow, trimRow} from './rows.ts';
import {styledLine} from './tone-style.ts';

/** A row as it was given, and as it goes to the terminal: text with its SGR sequences, and the columns it takes. */
type Line = {readonly row: Row; readonly width: number; readonly text: string; readonly columns: number};

/** First printable ASCII character but the blank; there are 93 more, and a screen has no more than twenty panels. */
const firstToken = 0x21;

/** What stands for each line of a panel while the screen is laid out. Plain ASCII, which is measured fastest. */
export function tokenFor(panel: number): string {
	return String.fromCharCode(firstToken + panel);
}

/**
 * The lines on the screen, kept out of Ink's way. Ink takes every character of a frame apart and puts it together
 * again, which is most of what a frame costs. It lays out one character for each line instead, once for each shape of
 * the screen, and the lines are put in their places as the frame goes out.
 */
export class LineBook {
	/** By panel. */
	#lines: Line[][] = [];
	#look: Look | undefined;

	/** Takes in the lines of a part. True where any differs from those before. */
	fill(part: Part, look: Look): boolean {
		const anew = look !== this.#look;
		this.#look = look;
		let changed = anew;
		this.#lines = panelsOf(part).map(({rows, width, height}, index) => {
			const before = this.#lines[index] ?? [];
			return Array.from({length: height}, (_, y) => {
				const row = rows[y] ?? [];
				const known = before[y];
				// Most lines of a frame are those of the frame before.
				if (!anew && known !== undefined && known.width === width && sameRow(row, known.row)) return known;
				changed = true;
				return finishLine(row, width, look);
			});
		});
		return changed;
	}

	/** The laid out frame with the lines in their places: the nth sign of a panel is its nth line. */
	restore(frame: string): string {
		if (this.#lines.length === 0) return frame;
		const next = this.#lines.map(() => 0);
		return frame
			.split('\n')
			.map(laidOut => {
				let restored = '';
				let width = 0;
				for (let column = 0; column < laidOut.length; column++) {
					const panel = laidOut.charCodeAt(column) - firstToken;
					const line = this.#lines[panel]?.[next[panel]++];
					if (line === undefined || line.columns === 0) continue;
					restored += ' '.repeat(Math.max(0, column - width)) + line.text;
					width = column + line.columns;
				}

				return restored;
			})
			.join('\n');
	}
}

/** A row of `width` columns without the blanks at its end. */
function finishLine(row: Row, width: number, {ascii, colorDepth}: Look): Line {
	const sent = ascii ? row.map(piece => ({...piece, text: asciiText(piece.text)})) : row;
	const {row: trimmed, columns} = trimRow(fitRow(sent, width), width);
	return {row, width, text: styledLine(trimmed, colorDepth), columns};
}
