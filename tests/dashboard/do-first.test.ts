import {describe, expect, it} from 'vitest';
import {doFirst, doFirstHeights, doFirstParts, fitDoFirst} from '../../source/dashboard/do-first.ts';
import {findFault} from '../../source/faults/registry.ts';
import {rowText} from '../../source/screen/rows.ts';
import type {Snapshot} from '../../source/session/snapshot.ts';
import {glyphs, healthy, makeFinding} from './sample-picture.ts';

const cause = makeFinding({code: 'supply-ripple', channel: null, status: 'out-of-spec', first: true});
const follower = makeFinding({code: 'excess-noise', channel: 'ring', status: 'out-of-spec'});
const grave = makeFinding({code: 'stuck-mid', channel: 'little'});
const over = makeFinding({code: 'stall', channel: null, status: 'failure', to: 20});
const snapshot: Snapshot = {...healthy, findings: [over, follower, grave, cause]};

describe('DO FIRST', () => {
	it('is the one root cause; open comes before over, failure before out-of-spec', () => {
		const {first, rest} = doFirst(snapshot);
		expect(first?.code).toBe('supply-ripple');
		expect(rest.map(({code}) => code)).toEqual(['stuck-mid', 'excess-noise', 'stall']);
	});

	it('is nothing where all is over', () => {
		const {first} = doFirst({...healthy, findings: [makeFinding({first: true, to: 20})]});
		expect(first).toBeUndefined();
	});

	it('has its advice whole however little room there is, and what else fits whole or not at all', () => {
		const advice = [
			'Measure at the one end, then at the other end of it, and write down both — the same; else: that wire',
			'Then this.',
		];
		const parts = doFirstParts(doFirst({...healthy, findings: [{...cause, advice}]}), findFault, 79, glyphs)!;
		const {least, most} = doFirstHeights(parts);
		for (let height = least; height <= most; height++) {
			const rows = fitDoFirst(parts, height).map(rowText);
			expect(rows.length).toBeLessThanOrEqual(height);
			expect(rows.join(' ').replace(/\s+/g, ' ')).toContain(advice[0]);
			expect(rows.at(-1)).toBe(' after that: nothing');
		}
		expect(fitDoFirst(parts, most).map(rowText).join('\n')).toContain('2. Then this.');
	});
});
