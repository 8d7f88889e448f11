import {createContext} from 'react';

/** A finished line, and the columns it takes. */
type Line = {readonly text: string; readonly columns: number};

/** First code point of Unicode's private use area, which no text of ours or a glove's has a use for on a screen. */
const firstToken = 0xe0_00;
const tokens = /[\uE000-\uF8FF]/;

/**
 * Finished lines on their way past Ink. Ink takes every character of a frame apart and puts it together again, which
 * is most of what a frame costs. Lines that are finished need only be put in their places, so Ink gets one character
 * for each, and the lines are put back in when the frame comes out.
 */
export class LineBook {
	#lines: Line[] = [];

	/** Keeps a line for this frame; what stands for it is one column wide. */
	put(line: Line): string {
		this.#lines.push(line);
		return String.fromCodePoint(firstToken + this.#lines.length - 1);
	}

	/** The frame with its lines in their places. Empties the book. */
	restore(frame: string): string {
		const lines = this.#lines;
		this.#lines = [];
		return lines.length === 0
			? frame
			: frame
					.split('\n')
					.map(row => restoreRow(row, lines))
					.join('\n');
	}
}

function restoreRow(row: string, lines: readonly Line[]): string {
	if (!tokens.test(row)) return row;
	let restored = '';
	let width = 0;
	let column = 0;
	for (const character of row) {
		const line = lines[character.charCodeAt(0) - firstToken];
		if (line !== undefined) {
			restored += ' '.repeat(Math.max(0, column - width)) + line.text;
			width = column + line.columns;
		}

		column++;
	}

	return restored;
}

/** Where lines are kept; without one, Ink gets the lines themselves. */
export const LineBookContext = createContext<LineBook | null>(null);
