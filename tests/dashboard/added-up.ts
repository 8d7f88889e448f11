import stringWidth from 'string-width';
import type {ScreenInput} from '../../source/dashboard/screen-part.ts';
import {initialViewState, type Page} from '../../source/dashboard/view-state.ts';
import {findFault} from '../../source/faults/registry.ts';
import {rowCells} from '../../source/screen/cells.ts';
import type {Part} from '../../source/screen/part.ts';
import {healthy, makePicture, plainLook} from './sample-picture.ts';

export const pages: readonly Page[] = ['overview', 'bench', 'trend', 'findings', 'checks', 'link', 'stick', 'keys'];

export const trend = {
	from: 0,
	to: 20,
	series: [{name: 'ring', buckets: Array.from({length: 30}, (_, index) => ({low: index * 20, high: index * 20}))}],
};

/** A healthy glove, live, at 80 × 24, but for what is told. */
export function screenInput(fields: Partial<ScreenInput>): ScreenInput {
	return {
		gloves: [makePicture(healthy, {trend})],
		view: initialViewState({mode: 'live', gloves: 1}),
		columns: 80,
		rows: 24,
		look: plainLook,
		catalogue: findFault,
		...fields,
	};
}

/** A screen's lines by adding its rectangles up: a second way to lay out, quick enough for every page and size. */
export function addedUp(part: Part): string[] {
	const join = (parts: readonly Part[], isAcross: boolean) => {
		const blocks = parts.map(addedUp).filter(block => block.length > 0);
		if (!isAcross) return blocks.flat();
		const height = Math.max(0, ...blocks.map(block => block.length));
		const widths = blocks.map(block => Math.max(...block.map(line => stringWidth(line))));
		return Array.from({length: height}, (_, y) =>
			blocks.map((block, i) => (block[y] ?? '') + ' '.repeat(widths[i] - stringWidth(block[y] ?? ''))).join(''),
		);
	};
	if ('across' in part) return join(part.across, true);
	if ('down' in part) return join(part.down, false);
	if (part.width === 0) return [];
	return Array.from({length: part.height}, (_, y) => {
		const text = rowCells(part.rows[y] ?? [], part.width, plainLook)
			.map(cell => cell.text)
			.join('');
		return text + ' '.repeat(part.width - stringWidth(text));
	});
}
