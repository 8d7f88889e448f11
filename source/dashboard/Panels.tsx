import {Box, Text} from 'ink';
import type {ReactNode} from 'react';
import {tokenFor} from './line-book.ts';
import type {Part} from './part.ts';

/** A part of the screen, laid out: in the place of each of its lines what stands for it in the line book. */
export function Panels({part}: {readonly part: Part}) {
	let panels = 0;
	const place = (each: Part, key: number): ReactNode => {
		if ('across' in each) return <Box key={key}>{each.across.map(place)}</Box>;
		if ('down' in each) {
			return (
				<Box key={key} flexDirection="column">
					{each.down.map(place)}
				</Box>
			);
		}

		const {width, height} = each;
		if (width === 0 || height === 0) return null;
		const token = tokenFor(panels++);
		return (
			<Box key={key} width={width} height={height} flexShrink={0}>
				<Text>{Array.from({length: height}, () => token).join('\n')}</Text>
			</Box>
		);
	};

	return place(part, 0);
}
