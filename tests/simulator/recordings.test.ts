import {mkdtemp, readdir, readFile, rm} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {PassThrough} from 'node:stream';
import {afterAll, beforeAll, describe, expect, test} from 'vitest';
import {commandFor, simulateCommand} from '../../source/commands/simulate.ts';
import {faultModels} from '../../source/simulator/faults/catalogue.ts';
import {truthOf} from '../../source/simulator/simulate.ts';
import {type SimulationOptions, simulationFromOptions} from '../../source/simulator/simulation-from-options.ts';
import {type RecordedSample, recordSample} from '../gloves/record-sample.ts';

const home = new URL('../../recordings/', import.meta.url).pathname;
const plain = {rate: 50, for: 25};
let samples: Record<string, SimulationOptions>;
let bringUpSamples: Record<string, RecordedSample>;
let folder: string;

beforeAll(async () => {
	samples = JSON.parse(await readFile(join(home, 'samples.json'), 'utf8'));
	bringUpSamples = JSON.parse(await readFile(join(home, 'bring-up-samples.json'), 'utf8'));
	folder = await mkdtemp(join(tmpdir(), 'samples-'));
});
afterAll(() => rm(folder, {recursive: true}));

describe('recordings/', () => {
	test('hold one for every fault that can be simulated, and no other file', async () => {
		const names = (await readdir(home)).filter(name => name.endsWith('.gbrec')).map(name => name.replace('.gbrec', ''));
		expect(names.sort()).toEqual([...Object.keys(samples), ...Object.keys(bringUpSamples)].sort());
		expect(Object.keys(samples)).toEqual(expect.arrayContaining([...faultModels.keys()]));
	});

	test('are what their commands make: node recordings/make.mjs after a change of the simulator', async () => {
		for (const [name, options] of Object.entries(samples)) {
			const output = join(folder, `${name}.gbrec`);
			const io = {stdout: new PassThrough(), stderr: new PassThrough(), signal: new AbortController().signal};
			await simulateCommand({...plain, ...options, output}, io);
			const kept = await readFile(join(home, `${name}.gbrec`));
			expect({name, same: kept.equals(await readFile(output))}).toEqual({name, same: true});
			expect(JSON.parse(kept.subarray(0, kept.indexOf(10)).toString()).note).toBe(commandFor({...plain, ...options}));
		}
	});

	test('of the guided routine are what their settings make', async () => {
		for (const [name, sample] of Object.entries(bringUpSamples)) {
			const output = join(folder, `${name}.gbrec`);
			await recordSample(name, sample, output);
			const kept = await readFile(join(home, `${name}.gbrec`));
			expect({name, same: kept.equals(await readFile(output))}).toEqual({name, same: true});
			expect(JSON.parse(kept.subarray(0, kept.indexOf(10)).toString()).note).toContain(
				`node recordings/make.mjs ${name}`,
			);
		}
	});

	test('show their fault as its definition asks, and the healthy ones none', () => {
		const bringUp = ['swapped-channels', 'stick-reversed', 'stick-swapped'];
		for (const [name, options] of Object.entries(samples)) {
			const {faults} = truthOf(simulationFromOptions({...plain, ...options}));
			const wanted = name.startsWith('healthy') ? [] : [bringUp.includes(name) ? 'may' : 'must'];
			expect({name, expect: [...new Set(faults.map(fault => fault.expect))]}).toEqual({name, expect: wanted});
			expect(faults.every(({code}) => code === name)).toBe(true);
		}
	});
});
