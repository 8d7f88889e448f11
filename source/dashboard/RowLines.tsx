import {Box, Text, Transform} from 'ink';
import {memo} from 'react';
import type {Look} from './look.ts';
import {fitRows, type Row} from './rows.ts';
import {styledLine} from './tone-style.ts';

type Props = {
	readonly rows: readonly Row[];
	readonly width: number;
	readonly height?: number;
	readonly look: Look;
};

/**
 * Rows as text of exactly this size: what is longer is cut, what is missing stays blank.
 *
 * Ink measures each text it lays out, character by character, at every frame. These lines are of known size, so Ink
 * gets to lay out blank ones, and the text is put in as they are written: that halves the cost of a frame.
 */
export const RowLines = memo(function RowLines({rows, width, height = rows.length, look}: Props) {
	if (width <= 0 || height <= 0) return null;
	const lines = fitRows(rows, width, height).map(line => styledLine(line, look.colorDepth));
	return (
		<Box width={width} height={height} flexShrink={0}>
			<Transform transform={(_blank, index) => lines[index] ?? ''}>
				<Text>{'\n'.repeat(height)}</Text>
			</Transform>
		</Box>
	);
}, sameLines);

/** Most panels of a frame are those of the frame before; they need not be laid out again. */
function sameLines(a: Props, b: Props): boolean {
	return (
		a.width === b.width &&
		a.height === b.height &&
		a.look === b.look &&
		a.rows.length === b.rows.length &&
		a.rows.every((line, y) => sameRow(line, b.rows[y]))
	);
}

function sameRow(a: Row, b: Row): boolean {
	return a.length === b.length && a.every((piece, x) => piece.text === b[x].text && piece.tone === b[x].tone);
}
