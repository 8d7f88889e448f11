import {describe, expect, it} from 'vitest';
import {panel, panelsOf, sameShape} from '../../source/screen/part.ts';
import {row} from '../../source/screen/rows.ts';

const screen = (text: string, width = 10, height = 1) => ({
	down: [panel([row(text)], 80), {across: [panel([], width, height), panel([row(text)], 0)]}],
});

describe('sameShape', () => {
	it('looks at places and sizes, not at what stands there', () => {
		expect(sameShape(screen('512'), screen('513'))).toBe(true);
		expect(sameShape(screen('512'), screen('512', 11))).toBe(false);
		expect(sameShape(screen('512'), screen('512', 10, 2))).toBe(false);
	});

	it('tells beside from under, and more panels from fewer', () => {
		const [a, b] = [panel([], 1, 1), panel([], 1, 1)];
		expect(sameShape({across: [a, b]}, {down: [a, b]})).toBe(false);
		expect(sameShape({across: [a, b]}, {across: [a]})).toBe(false);
		expect(sameShape(a, {down: [a]})).toBe(false);
		expect(sameShape({down: [a]}, a)).toBe(false);
	});
});

describe('panelsOf', () => {
	it('lists what can be seen in the order in which it is drawn', () => {
		expect(panelsOf(screen('ring')).map(({width, height}) => [width, height])).toEqual([
			[80, 1],
			[10, 1],
		]);
	});
});
