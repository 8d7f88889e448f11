import stringWidth from 'string-width';
import {describe, expect, it} from 'vitest';
import {type ScreenInput, screenPart} from '../../source/dashboard/screen-part.ts';
import {initialViewState, type Page} from '../../source/dashboard/view-state.ts';
import {findFault} from '../../source/faults/registry.ts';
import {rowCells} from '../../source/screen/cells.ts';
import type {Part} from '../../source/screen/part.ts';
import {faulty, healthy, makePicture, plainLook} from './sample-picture.ts';

const trend = {
	from: 0,
	to: 20,
	series: [{name: 'ring', buckets: Array.from({length: 30}, (_, index) => ({low: index * 20, high: index * 20}))}],
};
const position = {t: 12, duration: 40, playing: false, speed: 1, loop: false, readTo: 40, findings: [17], marks: [20]};

function propsOf(fields: Partial<ScreenInput>): ScreenInput {
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

/** The same by adding rectangles up: a second way to lay out, quick enough for every page and size. */
function addedUp(part: Part): string[] {
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

const pages: readonly Page[] = ['overview', 'bench', 'trend', 'findings', 'checks', 'link', 'stick', 'keys'];

describe('the dashboard’s screen', () => {
	it('stays within the screen less one row and column, on every page and size', () => {
		for (const [columns, rows] of [
			[60, 16],
			[80, 24],
			[133, 30],
			[140, 45],
			[200, 60],
		] as const) {
			for (const mode of ['live', 'replay'] as const) {
				for (const page of pages) {
					const gloves = [0, 1].map(() => makePicture(faulty, {trend, position: mode === 'replay' ? position : null}));
					for (const count of [1, 2]) {
						const view = {...initialViewState({mode, gloves: count}), page};
						const lines = addedUp(screenPart(propsOf({gloves: gloves.slice(0, count), view, columns, rows})));
						expect(lines.length).toBeLessThan(rows);
						for (const line of lines) expect(stringWidth(line)).toBeLessThan(columns);
					}
				}
			}
		}
	});
});
