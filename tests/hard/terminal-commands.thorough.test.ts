import {describe, expect, it} from 'vitest';
import {runCli} from '../cli/run-cli.ts';
import {hostileFolder} from './hostile-files.ts';
import {allAttacks, dangerIn} from './terminal-attacks.ts';

const at = hostileFolder();

describe('errors made of hostile words', () => {
	const gone = allAttacks.replaceAll('\0', '').replaceAll('/', '|').slice(0, 2000);
	const lines: readonly (readonly [string, readonly string[]])[] = [
		['a file that is not there', ['check', gone]],
		['a recording that is none', ['check', 'NAME.gbrec.gbrec']],
		['an address', ['check', `tcp://${gone}:99`]],
		['an address that cannot be resolved', ['check', 'tcp://a\u202e\u009b2J\u001b]0;x\u0007.invalid:99']],
		['an unknown command', [gone]],
		['an unknown option', ['check', 'x', `--${gone.slice(0, 200)}`]],
		['a bad value', ['check', 'x', '--baud', gone]],
		['a layout', ['check', 'x.gbrec', '--layout', gone]],
		['an unknown finding', ['explain', gone]],
		['a surplus word', ['explain', 'stall', gone]],
		['a bad fault', ['simulate', '--fault', gone]],
		['a bad script', ['simulate', '--script', gone]],
		['a sheet that is not there', ['plan', gone]],
		['a sheet of nonsense', ['check', 'NAME.gbrec', '--sheet', 'NAME.toml']],
		['a folder that is not there', ['record', 'NAME.gbrec', '-o', `${gone}/x.gbrec`]],
		['a page that cannot be written', ['check', 'NAME.gbrec', '--html', `${gone}/x.html`]],
		['a port', ['attach', `/dev/${gone}`]],
		['no terminal', ['replay', gone]],
		['a shell', ['completions', gone]],
	];

	it('are one harmless line, with status 2', async () => {
		const results = await Promise.all(
			lines.map(async ([what, argv]) => {
				const words = argv.map(word => (word.includes('NAME') ? at(word) : word));
				return [what, await runCli(words)] as const;
			}),
		);
		for (const [what, {status, stdout, stderr}] of results) {
			expect(status, `${what}: ${stderr}`).toBe(2);
			expect(dangerIn(stdout) ?? dangerIn(stderr), what).toBeUndefined();
			expect(stderr, what).toMatch(/^glovebench: [^\n]+\n$/);
			expect(stderr, what).not.toContain('defect');
		}
	});
});
