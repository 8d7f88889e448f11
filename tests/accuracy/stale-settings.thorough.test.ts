import {expect, test} from 'vitest';
import {type StaleKind, staleCase} from './stale-settings.ts';

// A fixed small share of the acceptance of settings-stale; all of it: npm run accuracy -- stale

test.each<[StaleKind, number]>([
	['true', 2],
	['true', 3],
	['inside', 0],
	['outside', 0],
	['direction', 0],
	['factor', 0],
])('a sheet: %s, seed %i', async (kind, seed) => {
	expect(await staleCase(kind, seed)).toMatchObject({isRight: true});
});
