import fc from 'fast-check';
import {describe, expect, it} from 'vitest';
import {makeLook} from '../../source/screen/look.ts';
import {panel} from '../../source/screen/part.ts';
import type {Row, Tone} from '../../source/screen/rows.ts';
import {type PlacedPanel, ScreenPainter} from '../../source/screen/screen-painter.ts';
import {cellsOf, columns, rows, terminalWith} from './cells.ts';

const piece = fc.record({
	tone: fc.constantFrom<Tone>('plain', 'strong', 'alert', 'chosen', 'failure', 'good', 'faint'),
	text: fc.string({unit: fc.constantFrom('a', 'b', '7', ' ', '█', '░', '─', '糸', 'é'), maxLength: 8}),
});
const line: fc.Arbitrary<Row> = fc.array(piece, {maxLength: 3});
const lines = fc.array(line, {minLength: 1, maxLength: rows - 1});
/** One panel, or two side by side; a glove's screen never reaches the last column. */
const frame: fc.Arbitrary<readonly PlacedPanel[]> = fc
	.tuple(lines, lines, fc.integer({min: 1, max: columns - 1}))
	.map(([one, other, width]) => [
		{panel: panel(one, width), x: 0, y: 0},
		{panel: panel(other, columns - 1 - width), x: width, y: 0},
	]);

const colored = makeLook({ascii: false, colorDepth: 24});

describe('ScreenPainter', () => {
	it('leaves the terminal, cell by cell, as painting the last frame afresh does', async () => {
		await fc.assert(
			fc.asyncProperty(fc.array(frame, {minLength: 2, maxLength: 5}), async frames => {
				const painter = new ScreenPainter(colored);
				const stepwise = await terminalWith(...frames.map(each => painter.paint(each)));
				const afresh = await terminalWith(new ScreenPainter(colored).paint(frames.at(-1)!));
				expect(cellsOf(stepwise)).toEqual(cellsOf(afresh));
			}),
			{numRuns: 150},
		);
	});
});
