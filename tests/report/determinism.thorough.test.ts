import {describe, expect, it} from 'vitest';
import {digestsIn} from './digests-in.ts';

/**
 * One of each kind: boot text and faults, packets, times and dates in the log, a bring-up, a comparison. All the others:
 * node tests/tools/run.mjs tests/tools/report-digests.ts
 */
const names = [
	'device-restart',
	'healthy-cobs',
	'stamped-hang',
	'log with',
	'bring-up bringup-swapped-reversed',
	'comparison of floating-input',
];

describe('reports', () => {
	it('are the same, byte for byte, in every time zone and locale, and however the bytes were cut', async () => {
		const plain = await digestsIn(names, {TZ: 'UTC', LC_ALL: 'C'});
		expect(plain.digests.length).toBeGreaterThan(35);
		// Some samples read alike whatever is written before their lines; most don't.
		expect(new Set(plain.digests.map(line => line.slice(0, 64))).size).toBeGreaterThan(24);
		for (const [environment, cutBytes] of [
			// Fifteen minutes off the hour; other digits.
			[{TZ: 'Asia/Kathmandu', LC_ALL: 'ar_EG.UTF-8'}, 1],
			// Clocks put forward while the dated logs run; a decimal comma, an i without a dot.
			[{TZ: 'Europe/Berlin', LC_ALL: 'tr_TR.UTF-8'}, 100],
		] as const) {
			const other = await digestsIn(names, environment, cutBytes);
			expect(other.surroundings).not.toBe(plain.surroundings);
			expect(other.digests).toEqual(plain.digests);
		}
	}, 120_000);
});
