import fc from 'fast-check';
import {describe, expect, it} from 'vitest';
import {ItemTape} from '../../source/dashboard/item-tape.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';

const text = (item: SourceItem) => ('bytes' in item ? Buffer.from(item.bytes).toString('latin1') : item);
const bytes = (words: string) => Buffer.from(words, 'latin1');
const all = (tape: ItemTape) => Array.from({length: tape.length}, (_, index) => tape.at(index));

describe('ItemTape', () => {
	it('gives back every byte in order, at its time, whatever the chunks', () => {
		const chunk = fc.uint8Array({maxLength: 40}).map(values => values.map(value => (value < 60 ? 10 : value)));
		fc.assert(
			fc.property(fc.array(chunk, {maxLength: 30}), chunks => {
				const tape = ItemTape.of(chunks.map((each, t) => ({t, bytes: each})));
				const kept = chunks.map((_, t) =>
					all(tape)
						.filter(item => item.t === t)
						.flatMap(item => ('bytes' in item ? [...item.bytes] : [])),
				);
				expect(kept).toEqual(chunks.map(each => [...each]));
			}),
		);
	});

	it('cuts chunks after each line, and leaves half a line whole', () => {
		const tape = ItemTape.of([
			{t: 1, bytes: bytes('12,3')},
			{t: 2, bytes: bytes('4\r\n56,78\r\n9')},
		]);
		expect(all(tape).map(text)).toEqual(['12,3', '4\r\n', '56,78\r\n', '9']);
		expect(all(tape).map(({t}) => t)).toEqual([1, 2, 2, 2]);
	});

	it('keeps events, marks and the silence at the end in their places', () => {
		const items: SourceItem[] = [
			{t: 0, event: 'dtr'},
			{t: 1, bytes: bytes('512\n')},
			{t: 2, mark: 'reel 3'},
			{t: 9, bytes: bytes('')},
		];
		const tape = ItemTape.of(items);
		expect(all(tape).map(text)).toEqual([items[0], '512\n', items[2], '']);
		expect(tape.marks).toEqual([2]);
		expect([0, 1, 2, 3].map(index => tape.isBytes(index))).toEqual([false, true, false, true]);
		expect(tape.timeOf(3)).toBe(9);
	});

	it('keeps chunks larger than its blocks', () => {
		const large = Uint8Array.from({length: 2_500_000}, (_, index) => 97 + (index % 26));
		const tape = ItemTape.of([
			{t: 0, bytes: bytes('first\n')},
			{t: 1, bytes: large},
			{t: 2, bytes: bytes('last\n')},
		]);
		const joined = Buffer.concat(all(tape).map(item => ('bytes' in item ? item.bytes : bytes(''))));
		expect(joined.equals(Buffer.concat([bytes('first\n'), large, bytes('last\n')]))).toBe(true);
	});

	it('counts what lies at or before a time', () => {
		const tape = ItemTape.of([0, 1, 1, 2].map(t => ({t, bytes: bytes('1\n')})));
		expect([-1, 0, 0.5, 1, 2, 3].map(t => tape.countUntil(t))).toEqual([0, 1, 1, 3, 4, 4]);
		expect(tape.hasBytes).toBe(true);
		expect(ItemTape.of([{t: 0, event: 'dtr'}]).hasBytes).toBe(false);
	});
});
