import {describe, expect, it} from 'vitest';
import {findingName, plainName, titleOf} from '../../source/faults/plain-name.ts';

describe('the name of a finding', () => {
	it('is its title in a sentence, with the channel where there is one', () => {
		expect(titleOf('narrow-span')).toBe('too little travel');
		expect([plainName('narrow-span', 'ring'), plainName('narrow-span')]).toEqual([
			'"too little travel" on ring',
			'"too little travel"',
		]);
	});

	it('is its code and channel in a list', () => {
		expect(findingName({code: 'narrow-span', channel: 'ring'})).toBe('narrow-span on ring');
		expect(findingName({code: 'lost-frames', channel: null})).toBe('lost-frames');
	});

	it('is the code where the catalogue does not know it', () => {
		expect([titleOf('of-a-later-version'), plainName('of-a-later-version')]).toEqual([
			'of-a-later-version',
			'"of-a-later-version"',
		]);
	});
});
