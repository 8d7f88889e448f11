import pkg from '@xterm/headless';
import fc from 'fast-check';
import {describe, expect, it} from 'vitest';
import {ScreenPainter} from '../../source/dashboard/screen-painter.ts';

const columns = 20;
const rows = 4;

/** A terminal of another make than ours. */
async function terminalWith(...writes: readonly string[]) {
	const terminal = new pkg.Terminal({cols: columns, rows, allowProposedApi: true});
	for (const text of writes) await new Promise<void>(resolve => terminal.write(text, resolve));
	return terminal;
}

/** Every cell with its looks. */
function cellsOf(terminal: Awaited<ReturnType<typeof terminalWith>>): string[] {
	return Array.from({length: rows}, (_, y) => {
		const line = terminal.buffer.active.getLine(y);
		return Array.from({length: columns}, (_, x) => {
			const cell = line?.getCell(x);
			const looks = [cell?.isBold() && 'b', cell?.isInverse() && 'i', cell?.getFgColor()].filter(Boolean).join('');
			const text = cell?.getChars() || ' ';
			return text === ' ' && looks === '-1' ? ' ' : `${text}${looks === '-1' ? '' : `{${looks}}`}`;
		}).join('');
	});
}

const piece = fc.tuple(
	fc.constantFrom('', '\u001B[1m', '\u001B[7m', '\u001B[31m', '\u001B[1m\u001B[38;2;7;136;50m'),
	fc.string({unit: fc.constantFrom('a', 'b', '7', ' ', '█', '░', '─', '糸', 'é'), maxLength: 8}),
);
const line = fc
	.array(piece, {maxLength: 3})
	.map(pieces => pieces.map(([style, text]) => style + text + (style && '\u001B[39m\u001B[27m\u001B[22m')).join(''));
/** Lines that fit: a glove's screen never reaches the last column. */
const frame = fc
	.array(
		line.filter(
			text =>
				[...text.replace(/\u001B\[[\d;]*m/g, '')].reduce((sum, each) => sum + (each === '糸' ? 2 : 1), 0) < columns,
		),
		{minLength: 1, maxLength: rows - 1},
	)
	.map(lines => lines.join('\n'));

describe('ScreenPainter', () => {
	it('leaves the terminal, cell by cell, as painting the last frame afresh does', async () => {
		await fc.assert(
			fc.asyncProperty(fc.array(frame, {minLength: 2, maxLength: 5}), async frames => {
				const painter = new ScreenPainter();
				const stepwise = await terminalWith(...frames.map(each => painter.paint(each)));
				const afresh = await terminalWith(new ScreenPainter().paint(frames.at(-1)!));
				expect(cellsOf(stepwise)).toEqual(cellsOf(afresh));
			}),
			{numRuns: 150},
		);
	});

	it('writes nothing for a frame that is on the screen already', () => {
		const painter = new ScreenPainter();
		painter.paint('ring 512\nlittle 300');
		expect(painter.paint('ring 512\nlittle 300')).toBe('');
	});

	it('writes the digits that changed, not their line', () => {
		const painter = new ScreenPainter();
		painter.paint(`ring ${'─'.repeat(60)} 512`);
		const bytes = painter.paint(`ring ${'─'.repeat(60)} 517`);
		expect(bytes).toBe('\u001B[1;69H7');
	});

	it('clears the screen and paints everything after it was forgotten', () => {
		const painter = new ScreenPainter();
		painter.paint('ring');
		painter.forget();
		expect(painter.paint('ring')).toBe('\u001B[0m\u001B[2J\u001B[1Hring');
	});

	it('clears what stood there in a longer line and in lines that are gone', async () => {
		const painter = new ScreenPainter();
		const terminal = await terminalWith(painter.paint('abcdef\nsecond\nthird'), painter.paint('abc'));
		expect(cellsOf(terminal).map(text => text.trimEnd())).toEqual(['abc', '', '', '']);
	});

	// A terminal may draw such a character one column wide where Unicode says two; what follows must not move.
	it('says where to go on after a character whose width terminals disagree on', () => {
		expect(new ScreenPainter().paint('糸 512')).toBe(
			'\u001B[0m\u001B[2J\u001B[1H\u001B[0m\u001B[2K\u001B[1H糸\u001B[1;3H 512',
		);
	});

	it('lets no control character through', () => {
		const bytes = new ScreenPainter().paint('a\u0007b\u009Bc\u001B]0;x\u0007d');
		expect(bytes.slice('\u001B[0m\u001B[2J\u001B[1H'.length)).toBe('a?b?c?]0;x?d');
	});
});
