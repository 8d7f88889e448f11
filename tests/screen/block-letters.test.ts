import {describe, expect, it} from 'vitest';
import {blockLetters} from '../../source/screen/block-letters.ts';

describe('blockLetters', () => {
	it('draws square pixels where there is room', () => {
		expect(blockLetters('i', 10, 5, '#')).toEqual(
			['######', '  ##', '  ##', '  ##', '######'].map(line => line.padEnd(6)),
		);
	});

	it('has a shape for every channel name', () => {
		for (const name of [
			'thumb',
			'index',
			'middle',
			'ring',
			'little',
			'stick-x',
			'stick-y',
			'button-1',
			'button-90',
			'spare-2345678',
		]) {
			const lines = blockLetters(name, 200, 5, '█');
			expect(lines).toHaveLength(5);
			expect(lines.join('')).toContain('█');
		}
	});

	it('fits the smallest screen with every usual name', () => {
		for (const name of ['thumb', 'index', 'middle', 'ring', 'little', 'stick-x', 'button-1']) {
			const lines = blockLetters(name, 55, 6, '█');
			expect(lines).toHaveLength(5);
			for (const line of lines) expect(line.length).toBeLessThanOrEqual(55);
		}
	});

	it('grows with the room it is given', () => {
		expect(blockLetters('ring', 200, 20, '#')).toHaveLength(20);
		expect(blockLetters('ring', 200, 19, '#')).toHaveLength(15);
		expect(blockLetters('ring', 200, 11, '#')).toHaveLength(10);
	});

	it('falls back to plain text where it does not fit or has no shape', () => {
		expect(blockLetters('middle', 10, 5, '#')).toEqual(['middle']);
		expect(blockLetters('left_hand', 200, 20, '#')).toEqual(['left_hand']);
		expect(blockLetters('', 200, 20, '#')).toEqual(['']);
	});
});
