import {expect, test} from 'vitest';
import {deepCopy} from '../../source/session/deep-copy.ts';

class Counter {
	readonly seen = new Float64Array(2);
	readonly names = new Map([['a', {n: 1}]]);
	bump(): void {
		this.seen[0]++;
	}
}

test('copies class instances with their prototypes, and shares nothing', () => {
	const counter = new Counter();
	const copy = deepCopy(counter);
	copy.bump();
	const entry = copy.names.get('a');
	if (entry) entry.n = 9;
	expect(copy).toBeInstanceOf(Counter);
	expect([counter.seen[0], copy.seen[0]]).toEqual([0, 1]);
	expect(counter.names.get('a')).toEqual({n: 1});
});

test('a reference that occurs twice, or leads back, stays one', () => {
	const shared = {value: 1};
	const state: {a: {value: number}; b: {value: number}; self?: unknown} = {a: shared, b: shared};
	state.self = state;
	const copy = deepCopy(state);
	expect(copy.a).toBe(copy.b);
	expect(copy.self).toBe(copy);
	expect(copy.a).not.toBe(shared);
});
