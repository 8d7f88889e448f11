import {describe, expect, it} from 'vitest';
import {leftToProveText} from '../../source/session/left-to-prove.ts';
import type {ChannelView} from '../../source/session/snapshot.ts';
import {fingerView} from '../report/sample-run.ts';

/** What is said of channels `c0`, `c1`… that differ so from proven fingers. */
function leftOf(...changes: Partial<ChannelView>[]): string {
	return leftToProveText(changes.map((change, index) => fingerView(index, `c${index}`, change)));
}

describe('what is left to prove', () => {
	it('is nothing where every finger, axis and button is proven; other columns need no proof', () => {
		expect(leftOf({}, {role: 'button'}, {role: 'spare', state: 'spare'}, {role: 'counter', state: 'spare'})).toBe('');
	});

	it.each([
		[{state: 'waiting'}, 'c0 (move it)'],
		[{state: 'learning'}, 'c0 (move it)'],
		[{state: 'open'}, 'c0 (wire it)'],
		[{state: 'lost'}, 'c0 (mend it)'],
		[{state: 'faulty'}, 'c0 (mend it)'],
		[{role: 'stick', state: 'waiting'}, 'c0 (push it to both sides)'],
		[{role: 'button', state: 'waiting'}, 'c0 (press it twice)'],
	] as const)('says of %j what to do', (change, text) => {
		expect(leftOf(change)).toBe(text);
	});

	it('tells channels that want the same together', () => {
		expect(leftOf({state: 'waiting'}, {state: 'open'}, {state: 'waiting'})).toBe('c0 and c2 (move them), c1 (wire it)');
	});
});
