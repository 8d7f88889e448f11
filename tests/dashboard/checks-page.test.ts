import {expect, it} from 'vitest';
import {checksPage} from '../../source/dashboard/checks-page.ts';
import {panelsOf} from '../../source/screen/part.ts';
import {rowText} from '../../source/screen/rows.ts';
import {faulty, glyphs} from './sample-picture.ts';

const rowsOf = (scroll: number, height = 20) =>
	panelsOf(checksPage(faulty, scroll, 79, height, glyphs))[0].rows.map(rowText);

it('tells of every check what was found, what waits for which movement, and what is clear, in that order', () => {
	const rows = rowsOf(0, faulty.checks.length + 1);
	expect(rows).toHaveLength(faulty.checks.length + 1);
	expect(rows[0]).toMatch(/^ \d+ found, \d+ waiting, \d+ clear/);
	const states = rows.slice(1).map(row => row.trim().split(/\s+/)[1]);
	expect(states).toEqual(
		[...states].sort((a, b) => 'found waiting clear'.indexOf(a) - 'found waiting clear'.indexOf(b)),
	);
	expect(rows.find(row => row.includes('found '))).toBeDefined();
	expect(rows.some(row => /waiting .* \d+ of \d+ {2}\S/.test(row))).toBe(true);
});

it('scrolls to its end and no farther', () => {
	const last = rowsOf(9999);
	expect(last).toHaveLength(20);
	expect(last.at(-1)).toBe(rowsOf(0, faulty.checks.length + 1).at(-1));
});
