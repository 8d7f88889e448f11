import {expect, it} from 'vitest';
import {wrapText} from '../../source/text/wrap-text.ts';

it('breaks at spaces so that no line is wider than asked', () => {
	const lines = wrapText('the spool turns on the shaft without taking it along', 20);
	expect(lines).toEqual(['the spool turns on', 'the shaft without', 'taking it along']);
});

it('counts the first prefix and indents what follows below it', () => {
	expect(wrapText('one two three', 8, '- ')).toEqual(['- one', '  two', '  three']);
	expect(wrapText('one two', 7, 'a  ', ' ')).toEqual(['a  one', ' two']);
});

it('leaves a word whole that is wider than the line', () => {
	expect(wrapText('an insupportable word', 6)).toEqual(['an', 'insupportable', 'word']);
});

it('never parts a number from its unit or its thousands', () => {
	expect(wrapText('a load of 21 % and 10 000 turns at 3 kΩ', 11)).toEqual([
		'a load of',
		'21 % and',
		'10 000',
		'turns at',
		'3 kΩ',
	]);
	expect(wrapText('20 sticks', 5)).toEqual(['20', 'sticks']);
});

it('gives the prefix alone for empty text', () => {
	expect(wrapText('', 10, '- ')).toEqual(['-']);
});
