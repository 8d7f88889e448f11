import {expect, it} from 'vitest';
import {noteText} from '../../source/fit/note-text.ts';

it('says each note on a finger in a sentence', () => {
	expect(noteText({kind: 'rails', ends: ['lower', 'upper']})).toBe(
		'Ends at the lower and the upper rail: the finger may go on beyond what is read.',
	);
	expect(noteText({kind: 'jumps', count: 1})).toBe('1 short jump was left out.');
	expect(noteText({kind: 'jumps', count: 3})).toBe('3 short jumps were left out.');
	expect(noteText({kind: 'finding', code: 'narrow-span'})).toBe('"too little travel" is still there.');
});
