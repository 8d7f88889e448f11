import type {Status} from '../faults/fault-code.ts';
import {cutText} from '../text/fit-text.ts';
import {textWidth} from '../text/text-width.ts';

/** What a piece of text is, from which its colour and weight follow. Never the only carrier of what it says. */
export type Tone = 'plain' | 'strong' | 'quiet' | 'faint' | 'good' | 'alert' | 'chosen' | Status;

/** A stretch of text in one tone. */
export type Piece = {readonly text: string; readonly tone?: Tone};

/** One line of the screen. */
export type Row = readonly Piece[];

export function row(text: string, tone?: Tone): Row {
	return [tone ? {text, tone} : {text}];
}

/** The text of a row without its tones. */
export function rowText(pieces: Row): string {
	return pieces.map(piece => piece.text).join('');
}

export function rowWidth(pieces: Row): number {
	return textWidth(rowText(pieces));
}

/** Exactly `width` columns of a row: cut at its end, or filled up with spaces. */
export function fitRow(pieces: Row, width: number): Row {
	const fitted: Piece[] = [];
	let left = width;
	for (const piece of pieces) {
		const columns = textWidth(piece.text);
		if (columns <= left) {
			fitted.push(piece);
			left -= columns;
			continue;
		}

		const text = cutText(piece.text, left);
		fitted.push({...piece, text});
		left -= textWidth(text);
		break;
	}

	if (left > 0) {
		// A tone that paints the background runs to the end of the line.
		const last = fitted.at(-1);
		fitted.push({text: ' '.repeat(left), ...(last?.tone === 'alert' && {tone: 'alert' as const})});
	}

	return fitted;
}

/** A row of `width` columns without the blanks at its end, unless their tone shows, and the columns that are left. */
export function trimRow(pieces: Row, width: number): {readonly row: Row; readonly columns: number} {
	const row = [...pieces];
	let columns = width;
	for (
		let last = row.at(-1);
		last !== undefined && last.tone !== 'alert' && last.tone !== 'chosen';
		last = row.at(-1)
	) {
		const text = last.text.trimEnd();
		columns -= last.text.length - text.length;
		row.pop();
		if (text !== '') {
			row.push({...last, text});
			break;
		}
	}

	return {row, columns};
}

/** A row with one part at each end, `width` columns in all; the left part gives way. */
export function spreadRow(left: Row, right: Row, width: number): Row {
	const rightWidth = Math.min(rowWidth(right), width);
	return [...fitRow(left, width - rightWidth), ...fitRow(right, rightWidth)];
}

export function sameRow(a: Row, b: Row): boolean {
	return a.length === b.length && a.every((piece, x) => piece.text === b[x].text && piece.tone === b[x].tone);
}
