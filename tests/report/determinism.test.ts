import {execFile} from 'node:child_process';
import {promisify} from 'node:util';
import {describe, expect, it} from 'vitest';

const run = promisify(execFile);
const root = new URL('../..', import.meta.url).pathname;

/** A few of each kind: faults, boot text, labels, packets, cut bytes, dates in the log, a bring-up, a comparison. */
const names = [
	'dropout',
	'device-restart',
	'healthy-labels',
	'healthy-cobs',
	'broken-frames',
	'bringup-swapped-reversed',
	'stamped-hang',
	'log with',
	'comparison',
];

/** What is around the program may be otherwise; whether it really is shows in what Node says of itself. */
async function digestsIn(environment: Record<string, string>, cutBytes?: number) {
	const env = {PATH: process.env.PATH ?? '', ...environment};
	const cut = cutBytes === undefined ? [] : ['--cut', String(cutBytes)];
	const [{stdout}, {stdout: surroundings}] = await Promise.all([
		run(process.execPath, ['tests/tools/run.mjs', 'tests/tools/report-digests.ts', ...cut, ...names], {cwd: root, env}),
		run(process.execPath, ['-p', 'new Date(0).toTimeString() + (1234.5).toLocaleString()'], {env}),
	]);
	return {digests: stdout.split('\n').filter(Boolean), surroundings};
}

describe('reports', () => {
	it('are the same, byte for byte, in every time zone and locale, and however the bytes were cut', async () => {
		const plain = await digestsIn({TZ: 'UTC', LC_ALL: 'C'});
		expect(plain.digests.length).toBeGreaterThan(50);
		// Some samples read alike whatever is written before their lines; most don't.
		expect(new Set(plain.digests.map(line => line.slice(0, 64))).size).toBeGreaterThan(40);
		for (const [environment, cutBytes] of [
			// Fifteen minutes off the hour, decimal comma.
			[{TZ: 'Asia/Kathmandu', LC_ALL: 'de_DE.UTF-8'}, 1],
			// Clocks put forward while the dated logs run; other digits.
			[{TZ: 'Europe/Berlin', LC_ALL: 'ar_EG.UTF-8'}, 7],
			// An i without a dot; half an hour off.
			[{TZ: 'America/St_Johns', LC_ALL: 'tr_TR.UTF-8'}, 100],
		] as const) {
			const other = await digestsIn(environment, cutBytes);
			expect(other.surroundings).not.toBe(plain.surroundings);
			expect(other.digests).toEqual(plain.digests);
		}
	}, 120_000);
});
