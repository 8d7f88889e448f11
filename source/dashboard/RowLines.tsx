import {Box, Text, Transform} from 'ink';
import {memo, useContext} from 'react';
import {LineBookContext} from './line-book.ts';
import type {Look} from './look.ts';
import {fitRows, type Row, trimRow} from './rows.ts';
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
 * The lines are finished here: Ink lays out blank ones of that number, and the text is put in as they are written.
 */
export const RowLines = memo(function RowLines({rows, width, height = rows.length, look}: Props) {
	const book = useContext(LineBookContext);
	if (width <= 0 || height <= 0) return null;
	const lines = fitRows(rows, width, height).map(fitted => {
		const {row, columns} = trimRow(fitted, width);
		return {text: styledLine(row, look.colorDepth), columns};
	});
	const textOf = (index: number) => {
		const line = lines[index];
		if (line === undefined || line.columns === 0) return '';
		return book === null ? line.text : book.put(line);
	};

	return (
		<Box width={width} height={height} flexShrink={0}>
			<Transform transform={(_blank, index) => textOf(index)}>
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
