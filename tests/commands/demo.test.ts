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

it('prints check’s report on the same session where there is no terminal, exit status 0', async () => {
	const {status, output} = await demoOutput({color: false});
	expect(status).toBe(0);
	expect(output).toContain('left hand of the dragon');
	for (const code of ['dropout', 'floating-input', 'stall', 'broken-frames', 'stray-text'])
		expect(output).toContain(code);
	expect(output).not.toContain('\u001B');
});
