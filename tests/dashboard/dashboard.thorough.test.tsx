import stringWidth from 'string-width';
import {describe, expect, it} from 'vitest';
import {screenPart} from '../../source/dashboard/screen-part.ts';
import {initialViewState} from '../../source/dashboard/view-state.ts';
import {addedUp, pages, screenInput, trend} from './added-up.ts';
import {faulty, makePicture} from './sample-picture.ts';

const position = {t: 12, duration: 40, playing: false, speed: 1, loop: false, readTo: 40, findings: [17], marks: [20]};

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
						const lines = addedUp(screenPart(screenInput({gloves: gloves.slice(0, count), view, columns, rows})));
						expect(lines.length).toBeLessThan(rows);
						for (const line of lines) expect(stringWidth(line)).toBeLessThan(columns);
					}
				}
			}
		}
	});
});
