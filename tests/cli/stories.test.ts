import {describe, expect, it} from 'vitest';
import {examplesOf} from './documented-commands.ts';
import {stories, testStories} from './stories.ts';

describe('the stories', () => {
	it('are three, each with commands', () => {
		expect(stories.map(story => /^\w+ \w+/.exec(story)?.[0])).toEqual(['At the', 'From afar', 'Over SSH']);
		for (const story of stories) expect(examplesOf(story).length).toBeGreaterThan(2);
	});

	testStories(['At the bench']);
});
