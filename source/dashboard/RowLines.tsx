import {Box, Text, Transform} from 'ink';
import {useContext} from 'react';
import {finishLine, LineBookContext} from './line-book.ts';
import type {Look} from './look.ts';
import {fitRows, type Row} from './rows.ts';

type Props = {
	readonly rows: readonly Row[];
	readonly width: number;
	readonly height: number;
	/** Number of the first of these lines among all on the screen. */
	readonly firstLine: number;
	readonly look: Look;
};

/**
 * Rows as text of exactly this size: what is longer is cut, what is missing stays blank.
 *
 * Ink lays out blank lines of that number. As they are written the text is put in, or, where a book keeps the lines,
 * what stands for them.
 */
export function RowLines({rows, width, height, firstLine, look}: Props) {
	const book = useContext(LineBookContext);
	const lines = book === null ? fitRows(rows, width, height).map(row => finishLine(row, width, look.colorDepth)) : [];
	return (
		<Box width={width} height={height} flexShrink={0}>
			<Transform
				transform={(_blank, index) =>
					index >= height ? '' : book === null ? lines[index].text : book.tokenFor(firstLine + index)
				}
			>
				<Text>{'\n'.repeat(height)}</Text>
			</Transform>
		</Box>
	);
}
