import {expect, test} from 'vitest';
import {InterarrivalJitter} from '../../../source/features/link/interarrival-jitter.ts';

// RFC 3550 §6.4.1 (and A.8); expected numbers worked by hand from J += (|D| − J)/16.
test('follows the worked example to the last bit', () => {
	const jitter = new InterarrivalJitter();
	const sent = [0, 10, 20, 30, 40, 50];
	const received = [5, 15, 27, 35, 45, 61];
	const seen = sent.map((s, i) => {
		jitter.add(received[i], s);
		return jitter.value;
	});
	expect(seen.slice(1)).toEqual([0, 0.125, 0.2421875, 0.22705078125, 0.587860107421875]);
	expect(jitter.value).toBe(19263 / 32768);
});

test('approaches a constant difference as d(1 − (15/16)ⁿ)', () => {
	const jitter = new InterarrivalJitter();
	for (let n = 1; n <= 100; n++) {
		jitter.addDifference(n % 2 === 0 ? 1 : -1);
		if (n === 16) expect(jitter.value).toBeCloseTo(1 - (15 / 16) ** 16, 12);
		if (n === 100) expect(jitter.value).toBeCloseTo(1 - (15 / 16) ** 100, 12);
	}
});

test('10 ms frames delivered at multiples of 16 ms', () => {
	const jitter = new InterarrivalJitter();
	const values: number[] = [];
	for (let i = 0; i <= 199; i++) {
		jitter.add(Math.ceil((10 * i) / 16) * 16, 10 * i);
		values.push(jitter.value);
	}
	expect(values.slice(1, 9)).toEqual([
		0.375, 0.7265625, 1.30615234375, 1.599517822265625, 1.8745479583740234, 2.382388710975647, 2.608489416539669,
		3.0704588280059397,
	]);
	expect(values[199]).toBeCloseTo(7.454598189889102, 12);
});
