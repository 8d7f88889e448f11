import {Box} from 'ink';
import type {ReactNode} from 'react';
import type {Look} from './look.ts';
import type {Part} from './part.ts';
import {RowLines} from './RowLines.tsx';

type Props = {
	readonly part: Part;
	readonly look: Look;
};

/** A part of the screen, its panels in their places. */
export function Panels({part, look}: Props) {
	let line = 0;
	const place = (each: Part, key: number): ReactNode => {
		if ('across' in each) return <Box key={key}>{each.across.map(place)}</Box>;
		if ('down' in each) {
			return (
				<Box key={key} flexDirection="column">
					{each.down.map(place)}
				</Box>
			);
		}

		const {rows, width, height} = each;
		if (width === 0 || height === 0) return null;
		const first = line;
		line += height;
		return <RowLines key={key} rows={rows} width={width} height={height} firstLine={first} look={look} />;
	};

	return place(part, 0);
}
