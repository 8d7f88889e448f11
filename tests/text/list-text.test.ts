import {expect, it} from 'vitest';
import {listText} from '../../source/text/list-text.ts';

it('joins the last of several with and', () => {
	expect([[], ['a'], ['a', 'b'], ['a', 'b', 3]].map(listText)).toEqual(['', 'a', 'a and b', 'a, b and 3']);
});
