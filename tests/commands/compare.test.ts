import {beforeAll, describe, expect, it} from 'vitest';
import {type CompareOptions, compareCommand} from '../../source/commands/compare.ts';
import {simulateCommand} from '../../source/commands/simulate.ts';
import {testFolder} from '../gloves/test-folder.ts';
import {runCaptured} from './run-captured.ts';

const {at} = testFolder();
const good = at('good.gbrec');
const bad = at('bad.gbrec');

beforeAll(async () => {
	await runCaptured(simulateCommand, {output: good, for: 30, seed: 5});
	await runCaptured(simulateCommand, {output: bad, for: 30, seed: 5, fault: ['floating-input:ring']});
});

const compare = (options: CompareOptions) => runCaptured(compareCommand, options);

describe('compare', () => {
	it('resolves to 0 where the second recording is sound, to 1 where it is not', async () => {
		const mended = await compare({a: bad, b: good});
		expect(mended.text).toMatch(/^BETTER: /);
		expect(mended.status).toBe(0);
		// Both sides say what could not be judged.
		expect(mended.text.match(/^ {3}Not judged yet: /gm)).toHaveLength(2);
		const broken = await compare({a: good, b: bad});
		expect(broken.text).toMatch(/^WORSE: "wiper wire open" on ring is new in B/);
		expect(broken.status).toBe(1);
	});

	it('prints JSON, Markdown, and plain ASCII', async () => {
		expect(JSON.parse((await compare({a: bad, b: good, json: true})).text).verdict.word).toBe('better');
		expect((await compare({a: bad, b: good, markdown: true})).text).toMatch(/^\*\*BETTER\*\*: /);
		expect((await compare({a: bad, b: good, ascii: true})).text).toMatch(/^[\n -~]+$/);
	});

	it('says what it cannot do', async () => {
		await expect(compare({a: bad, b: good, json: true, markdown: true})).rejects.toThrow('exclude each other');
		await expect(compare({a: bad, b: at('missing.gbrec')})).rejects.toThrow(/missing\.gbrec/);
		await expect(compare({a: '-', b: '-'})).rejects.toThrow('Standard input can be one of the two only');
	});
});
