import {readdirSync, readFileSync} from 'node:fs';
import {describe, expect, test} from 'vitest';
import {Session} from '../../source/session/session.ts';
import {openSource} from '../../source/sources/open-source.ts';

/**
 * Captures in the shape and statistics of troubles that users reported in public, each with what a right diagnosis
 * finds: `must` (all of these), `anyOf` (at least one of each group), `may` (allowed besides). Anything else is a false
 * alarm.
 */
type Named = {readonly code: string; readonly channel: string | null};
type Expectation = {
	readonly must: readonly Named[];
	readonly anyOf?: readonly (readonly Named[])[];
	readonly may?: readonly Named[];
	readonly setup: {readonly fullScale: number; readonly baud: number; readonly framePeriodMs?: number};
	readonly note: string;
};

const folder = new URL('../cases/', import.meta.url);
const ids = readdirSync(folder)
	.filter(name => name.endsWith('.expect.json'))
	.map(name => name.replace('.expect.json', ''));
const key = ({code, channel}: Named): string => `${code} on ${channel ?? 'the link'}`;

test('there are captures to check', () => {
	expect(ids.length).toBeGreaterThanOrEqual(33);
});

describe('captures of real troubles', () => {
	test.each(ids)('%s comes out right', async id => {
		const expectation = JSON.parse(readFileSync(new URL(`${id}.expect.json`, folder), 'utf8')) as Expectation;
		const {setup} = expectation;
		const rate = setup.framePeriodMs === undefined ? 100 : 1000 / setup.framePeriodMs;
		const source = await openSource(new URL(`${id}.txt`, folder).pathname, {rate, baud: setup.baud});
		const session = new Session({timing: source.info.timing, baud: setup.baud, fullScale: setup.fullScale});
		for await (const batch of source.batches()) for (const item of batch) session.push(item);
		session.end();
		const found = session.findings.map(key);
		const missing = expectation.must.map(key).filter(wanted => !found.includes(wanted));
		const unmet = (expectation.anyOf ?? [])
			.filter(group => !group.some(wanted => found.includes(key(wanted))))
			.map(group => group.map(key));
		const allowed = new Set(
			[...expectation.must, ...(expectation.may ?? []), ...(expectation.anyOf ?? []).flat()].map(key),
		);
		const extra = found.filter(name => !allowed.has(name));
		expect({missing, unmet, extra}, expectation.note).toEqual({missing: [], unmet: [], extra: []});
	});
});
