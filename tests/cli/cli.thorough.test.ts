import {describe, expect, it} from 'vitest';
import {startCli} from './run-cli.ts';

describe('glovebench', () => {
	it.each([
		['SIGINT', 130],
		['SIGTERM', 143],
	] as const)('ends a followed source in order at %s, with status %i', async (signal, expected) => {
		const child = startCli(['check', '-', '--follow', '--json'], {stdio: ['pipe', 'pipe', 'pipe']});
		let stdout = '';
		let stderr = '';
		// Its first line shows that it is up.
		const isUp = new Promise(resolve => child.stdout?.once('data', resolve));
		child.stdout?.on('data', text => {
			stdout += text;
		});
		child.stderr?.on('data', text => {
			stderr += text;
		});
		await isUp;
		child.kill(signal);
		const status = await new Promise(resolve => child.on('close', resolve));
		const events = stdout
			.trimEnd()
			.split('\n')
			.map(line => JSON.parse(line).event);
		expect(events.at(0)).toBe('start');
		expect(events.at(-1)).toBe('end');
		// Nothing came meanwhile, which is said as without --follow; what was asked for is to end.
		expect(stderr).toMatch(/^glovebench: Nothing came from -: .*\n$/);
		expect(status).toBe(expected);
	});
});
