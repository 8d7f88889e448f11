import {Box, type DOMElement, Text} from 'ink';
import {type ReactNode, useLayoutEffect, useRef} from 'react';
import {type Cell, rowCells} from './cells.ts';
import type {Look} from './look.ts';
import type {Part} from './part.ts';

/** Upper left corner of a panel, column and row from 0. */
export type Place = {readonly x: number; readonly y: number};

type Props = {
	readonly part: Part;
	readonly look: Look;
	/**
	 * Told where each panel has come to stand, in the order of `panelsOf`; the panels themselves stay empty then, and
	 * whoever asked puts the rows there. Without it the rows are drawn as text.
	 */
	readonly onPlaced?: (places: readonly Place[]) => void;
};

/** A part of the screen, laid out. */
export function Panels({part, look, onPlaced}: Props) {
	const boxes = useRef<(DOMElement | null)[]>([]);
	boxes.current = [];
	useLayoutEffect(() => {
		onPlaced?.(boxes.current.map(placeOf));
	});
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
		const index = boxes.current.push(null) - 1;
		const text = () =>
			Array.from({length: height}, (_, y) => textOf(rowCells(rows[y] ?? [], width, look)) || ' ').join('\n');
		return (
			<Box
				key={key}
				ref={box => {
					boxes.current[index] = box;
				}}
				width={width}
				height={height}
				flexShrink={0}
			>
				{onPlaced === undefined && <Text wrap="truncate">{text()}</Text>}
			</Box>
		);
	};

	return place(part, 0);
}

const textOf = (cells: readonly Cell[]) => cells.map(cell => cell.text).join('');

function placeOf(box: DOMElement | null): Place {
	let x = 0;
	let y = 0;
	for (let node = box; node?.yogaNode !== undefined; node = node.parentNode ?? null) {
		x += node.yogaNode.getComputedLeft();
		y += node.yogaNode.getComputedTop();
	}

	return {x, y};
}
