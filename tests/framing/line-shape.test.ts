import {expect, test} from 'vitest';
import {readShapes} from '../../source/framing/line-shape.ts';
import {toBytes} from './record-framer.ts';

const keys = (text: string): string[] => readShapes(toBytes(text)).map(({key}) => key);
const shareShape = (one: string, other: string): boolean => keys(one).some(key => keys(other).includes(key));

test.each([
	['other numbers', '512,498,600', '1,20,333', true],
	['other separators', '512,498,600', '512;498;600', false],
	['more blanks', '512, 498, 600', '512,  498,600', true],
	['labels in another order', 'thumb:512 index:498', 'index=498;thumb=512', true],
	['other labels', 'thumb:512 index:498', 'thumb:512 ring:498', false],
	['a label that comes twice: what stands between counts', 'a:512 a:498 b:1', 'a=512;b=1;a=498', false],
	['a value without a label: what stands between counts', '7 thumb:512 index:498', '7;index=498;thumb=512', false],
	['one label', 'thumb:512', 'thumb=512', false],
	['JSON in another order', '{"thumb":512,"index":498}', '{"index":498,"thumb":512}', true],
])('two lines are of one layout, or are not: %s', (_title, one, other, isOne) => {
	expect(shareShape(one, other)).toBe(isOne);
});
