import {describe, expect, it} from 'vitest';
import {LineBook, tokenFor} from '../../source/dashboard/line-book.ts';
import {panel} from '../../source/dashboard/part.ts';
import {row} from '../../source/dashboard/rows.ts';
import {asciiLook, plainLook} from './sample-picture.ts';

describe('LineBook', () => {
	it('puts every line where what stands for it stands, side by side without a gap', () => {
		const book = new LineBook();
		const [a, b] = [tokenFor(0), tokenFor(1)];
		book.fill({across: [panel([row('ring', 'strong')], 13), panel([row('糸 512'), row('q quit')], 8)]}, plainLook);
		expect(book.restore(`${a}            ${b}\n\n ${b}`)).toBe('\u001B[1mring\u001B[22m         糸 512\n\n q quit');
		book.fill({across: [panel([row('糸')], 2), panel([row('│')], 1)]}, plainLook);
		expect(book.restore(`${a} ${b}`)).toBe('糸│');
	});

	it('says whether a line is another than before', () => {
		const book = new LineBook();
		const screen = (now: string, width = 8) => ({down: [panel([row('ring')], width), panel([row(now)], 8)]});
		expect(book.fill(screen('512'), plainLook)).toBe(true);
		expect(book.fill(screen('512'), plainLook)).toBe(false);
		expect(book.fill(screen('513'), plainLook)).toBe(true);
		expect(book.fill(screen('513', 3), plainLook)).toBe(true);
		expect(book.restore(`${tokenFor(0)}\n${tokenFor(1)}`)).toBe('rin\n513');
		// Another look makes other lines.
		expect(book.fill(screen('513', 3), asciiLook)).toBe(true);
	});

	it('takes no line from panels of which nothing can be seen', () => {
		const book = new LineBook();
		book.fill({down: [panel([row('hidden')], 0), panel([row('hidden')], 8, 0), panel([row('ring')], 8)]}, plainLook);
		expect(book.restore(tokenFor(0))).toBe('ring');
	});

	it('leaves a frame alone while it holds no lines', () => {
		expect(new LineBook().restore('needs 60 x 16,\nthis is 59 x 16.')).toBe('needs 60 x 16,\nthis is 59 x 16.');
	});
});
