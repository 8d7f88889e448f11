import {expect, it} from 'vitest';
import {demoCommand} from '../../source/commands/demo.ts';
import {runCaptured} from './run-captured.ts';

it('is the same every time', async () => {
	const [one, two] = [await runCaptured(demoCommand, {json: true}), await runCaptured(demoCommand, {json: true})];
	expect(one.text).toBe(two.text);
	expect(JSON.parse(one.text).findings.length).toBeGreaterThan(3);
});
