import {Box, Text} from 'ink';
import type {Look} from './look.ts';
import {fitRows, type Row} from './rows.ts';
import {toneStyle} from './tone-style.ts';

type Props = {
	readonly rows: readonly Row[];
	readonly width: number;
	readonly height?: number;
	readonly look: Look;
};

/** Rows as text of exactly this size: what is longer is cut, what is missing stays blank. */
export function RowLines({rows, width, height = rows.length, look}: Props) {
	if (width <= 0 || height <= 0) return null;
	const lines = fitRows(rows, width, height);
	return (
		<Box width={width} height={height} flexShrink={0}>
			<Text wrap="truncate">
				{lines.map((line, y) => (
					<Text key={y}>
						{y > 0 ? '\n' : ''}
						{line.map((piece, x) => (
							<Text key={x} {...toneStyle(piece.tone ?? 'plain', look.color)}>
								{piece.text}
							</Text>
						))}
					</Text>
				))}
			</Text>
		</Box>
	);
}
