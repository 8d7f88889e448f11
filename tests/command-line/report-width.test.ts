import {describe, expect, it} from 'vitest';
import {reportWidth} from '../../source/command-line/report-width.ts';

describe('the width of a report', () => {
	it('is what COLUMNS asks for, else the terminal, else 80, from 60 to 120', () => {
		expect(reportWidth({COLUMNS: '72'}, 100)).toBe(72);
		expect(reportWidth({}, 100)).toBe(100);
		expect(reportWidth({})).toBe(80);
		expect(reportWidth({COLUMNS: '20'})).toBe(60);
		expect(reportWidth({COLUMNS: '400'})).toBe(120);
	});

	it('takes no notice of what is no number of columns', () => {
		for (const COLUMNS of ['', '0', '-5', 'wide', '1e3']) expect(reportWidth({COLUMNS}, 90)).toBe(90);
		expect(reportWidth({}, 0)).toBe(80);
	});
});
