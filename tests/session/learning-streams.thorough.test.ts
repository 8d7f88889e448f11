import {describe, test} from 'vitest';
import {learningKinds} from '../gloves/learning-streams.ts';
import {expectLearnedQuietly} from './expect-learned.ts';

describe('a glove whose firmware learns each range from power-on has no finding', () => {
	test.each(learningKinds.filter(({bits}) => bits === 12))('$bits bit, $rest s of rest first', expectLearnedQuietly);
});
