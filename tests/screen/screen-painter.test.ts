import {describe, expect, it} from 'vitest';
import {panel} from '../../source/screen/part.ts';
import type {Tone} from '../../source/screen/rows.ts';
import {type PlacedPanel, ScreenPainter} from '../../source/screen/screen-painter.ts';
import {plainLook} from '../dashboard/sample-picture.ts';
import {cellsOf, terminalWith} from './cells.ts';

/** Rows of text at the upper left corner. */
const page = (...texts: readonly string[]): PlacedPanel[] => [
	{
		panel: panel(
			texts.map(text => [{text}]),
			79,
		),
		x: 0,
		y: 0,
	},
];

describe('ScreenPainter', () => {
	it('writes nothing for a frame that is on the screen already', () => {
		const painter = new ScreenPainter(plainLook);
		painter.paint(page('ring 512', 'little 300'));
		expect(painter.paint(page('ring 512', 'little 300'))).toBe('');
	});

	it('writes the digits that changed, not their line', () => {
		const painter = new ScreenPainter(plainLook);
		painter.paint(page(`ring ${'─'.repeat(60)} 512`));
		const bytes = painter.paint(page(`ring ${'─'.repeat(60)} 517`));
		expect(bytes).toBe('\u001B[1;69H7');
	});

	it('clears the screen and paints everything after it was forgotten', () => {
		const painter = new ScreenPainter(plainLook);
		painter.paint(page('ring'));
		painter.forget();
		expect(painter.paint(page('ring'))).toBe('\u001B[0m\u001B[2J\u001B[1Hring');
	});

	it('clears what stood there in a longer line and in lines that are gone', async () => {
		const painter = new ScreenPainter(plainLook);
		const terminal = await terminalWith(painter.paint(page('abcdef', 'second', 'third')), painter.paint(page('abc')));
		expect(cellsOf(terminal).map(text => text.trimEnd())).toEqual(['abc', '', '', '']);
	});

	// A terminal may draw such a character one column wide where Unicode says two; what follows must not move.
	it('says where to go on after a character whose width terminals disagree on', () => {
		expect(new ScreenPainter(plainLook).paint(page('糸 512'))).toBe(
			'\u001B[0m\u001B[2J\u001B[1H\u001B[0m\u001B[2K\u001B[1H糸\u001B[1;3H 512',
		);
	});

	it('paints panels side by side, and of one that changes what changes', () => {
		const painter = new ScreenPainter(plainLook);
		const screen = (now: string, tone?: Tone): PlacedPanel[] => [
			{panel: panel([[{text: 'ring'}], [{text: 'little'}]], 12), x: 0, y: 0},
			{panel: panel([[{text: now, ...(tone && {tone})}]], 8), x: 13, y: 1},
		];
		expect(painter.paint(screen('512', 'strong'))).toBe(
			'\u001B[0m\u001B[2J\u001B[1Hring\u001B[2Hlittle       \u001B[1m512\u001B[m',
		);
		expect(painter.paint(screen('513', 'strong'))).toBe('\u001B[2;16H\u001B[1m3\u001B[m');
		expect(painter.paint(screen('513'))).toBe('\u001B[2;14H513');
	});

	it('lets no control character through', () => {
		const bytes = new ScreenPainter(plainLook).paint(page('a\u0007b\u009Bc\u001B]0;x\u0007d'));
		expect(bytes.slice('\u001B[0m\u001B[2J\u001B[1H'.length)).toBe('a?b?c?]0;x?d');
	});
});
