import fc from 'fast-check';
import {describe, expect, it} from 'vitest';
import {cutItems, onGrid} from '../../source/share/cut-items.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';

const bytes = (text: string) => new TextEncoder().encode(text);

const items: SourceItem[] = [
	{t: 0, event: 'dtr', detail: '/dev/ttyUSB0 raised DTR'},
	{t: 1, bytes: bytes('512,4')},
	{t: 1.000013, bytes: bytes('98\n')},
	{t: 1.5, mark: 'Grandmother tries it'},
	{t: 2.1, event: 'port-lost', detail: '/dev/ttyUSB0 is gone'},
	{t: 3, bytes: bytes('1\n')},
];

describe('cutItems', () => {
	it('keeps every piece of a span byte for byte, with times from its beginning', () => {
		expect(cutItems(items, {from: 1, to: 3})).toEqual([
			{t: 0, bytes: bytes('512,4')},
			{t: 0.000013, bytes: bytes('98\n')},
			{t: 1.1, event: 'port-lost'},
			{t: 2, bytes: bytes('1\n')},
		]);
	});

	it('leaves out marks and the details of events', () => {
		expect(JSON.stringify(cutItems(items, {from: 0, to: 9}))).not.toMatch(/mark|Grandmother|ttyUSB0/);
	});

	it('gives times that never fall, in whole microseconds', () => {
		fc.assert(
			fc.property(fc.array(fc.integer({min: 0, max: 4e9})), fc.integer({min: 0, max: 2000}), (ticks, quarters) => {
				const sorted = ticks.sort((a, b) => a - b).map(tick => ({t: tick / 1e6, bytes: bytes('x')}));
				const from = quarters / 4;
				const cut = cutItems(sorted, {from, to: 1e9});
				expect(cut.map(({t}) => Math.round(t * 1e6))).toEqual(
					ticks.filter(tick => tick / 1e6 >= from).map(tick => tick - quarters * 250_000),
				);
			}),
		);
	});
});

describe('onGrid', () => {
	it('gives the quarter second at or before a time, and never one before 0', () => {
		expect([12.3, 12.25, 0.1, -7].map(onGrid)).toEqual([12.25, 12.25, 0, 0]);
	});
});
