import {expect, it} from 'vitest';
import {demoCommand} from '../../source/commands/demo.ts';
import {runCaptured} from './run-captured.ts';

it('prints check’s report on the same session where there is no terminal, exit status 0', async () => {
	const {status, text} = await runCaptured(demoCommand, {color: false});
	expect(status).toBe(0);
	expect(text).toContain('left hand of the dragon');
	for (const code of ['dropout', 'floating-input', 'stall', 'broken-frames', 'stray-text'])
		expect(text).toContain(code);
	expect(text).not.toContain('\u001B');
});
