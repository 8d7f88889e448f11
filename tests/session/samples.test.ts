import {existsSync, readdirSync} from 'node:fs';
import {describe, expect, test} from 'vitest';
import {faults} from '../../source/faults/registry.ts';
import {checkSample} from '../gloves/check-sample.ts';

const folder = new URL('../../recordings/', import.meta.url);
const detected = faults.filter(fault => fault.ways.length > 0).map(fault => fault.code);
const healthy = readdirSync(folder).filter(name => name.startsWith('healthy') && name.endsWith('.gbrec'));

async function codesIn(name: string): Promise<string[]> {
	const {snapshot} = await checkSample(name.replace('.gbrec', ''));
	return snapshot.findings.map(({code}) => code);
}

describe('sample recordings', () => {
	test('there is one for every finding, named after its code', () => {
		const missing = detected.filter(code => !existsSync(new URL(`${code}.gbrec`, folder)));
		expect(missing, `make recordings/<code>.gbrec for these`).toEqual([]);
		expect(healthy.length).toBeGreaterThan(0);
	});

	test.each(detected)('%s.gbrec shows its finding', async code => {
		expect(await codesIn(`${code}.gbrec`)).toContain(code);
	});

	test.each(healthy)('%s shows none', async name => {
		expect(await codesIn(name)).toEqual([]);
	});
});
