import {PassThrough} from 'node:stream';
import {text} from 'node:stream/consumers';
import {expect, it} from 'vitest';
import {demoCommand} from '../../source/commands/demo.ts';

async function demoOutput(options: Parameters<typeof demoCommand>[0]): Promise<{status: number; output: string}> {
	const [stdin, stdout, stderr] = [new PassThrough(), new PassThrough(), new PassThrough()];
	const output = text(stdout);
	const status = await demoCommand(options, {stdin, stdout, stderr, signal: new AbortController().signal});
	stdout.end();
	return {status, output: await output};
}

it('is the same every time', async () => {
	const [one, two] = [await demoOutput({json: true}), await demoOutput({json: true})];
	expect(one.output).toBe(two.output);
	expect(JSON.parse(one.output).findings.length).toBeGreaterThan(3);
});
