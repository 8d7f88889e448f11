import {describe, expect, it} from 'vitest';
import {LineBook} from '../../source/dashboard/line-book.ts';

describe('LineBook', () => {
	it('puts every line back where what stood for it stands', () => {
		const book = new LineBook();
		const left = book.put({text: '\u001B[1mring\u001B[22m', columns: 4});
		const right = book.put({text: '糸 512', columns: 6});
		const below = book.put({text: 'q quit', columns: 6});
		expect(book.restore(`${left}         ${right}\n\n ${below}`)).toBe(
			'\u001B[1mring\u001B[22m      糸 512\n\n q quit',
		);
	});

	it('lets lines stand side by side without a gap', () => {
		const book = new LineBook();
		const [a, b] = [book.put({text: '糸', columns: 2}), book.put({text: '│', columns: 1})];
		expect(book.restore(`${a} ${b}`)).toBe('糸│');
	});

	it('is empty for the next frame, and leaves text that isn’t its own alone', () => {
		const book = new LineBook();
		const token = book.put({text: 'ring', columns: 4});
		expect(book.restore(token)).toBe('ring');
		expect(book.restore('needs 60 x 16,\nthis is 59 x 16.')).toBe('needs 60 x 16,\nthis is 59 x 16.');
	});
});
