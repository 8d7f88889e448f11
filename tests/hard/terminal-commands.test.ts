import {readdirSync, readFileSync} from 'node:fs';
import {describe, expect, it} from 'vitest';
import {portsCommand} from '../../source/commands/ports.ts';
import {ProgressBar} from '../../source/report/progress-bar.ts';
import {hostileFolder} from './hostile-files.ts';
import {type CommandOutput, runCommand as run} from './run-command.ts';
import {allAttacks, attacks, dangerIn, ownSequences} from './terminal-attacks.ts';

const at = hostileFolder();

function expectHarmless({stdout, stderr}: Pick<CommandOutput, 'stdout' | 'stderr'>, own = ownSequences.none): void {
	expect(dangerIn(stdout, own)).toBeUndefined();
	expect(dangerIn(stderr, own)).toBeUndefined();
}

describe('the scanner that the tests below rest on', () => {
	it('finds every attack where it stands raw, and none in ordinary text', () => {
		for (const [what, , text] of attacks) expect(dangerIn(`a ${text} b`), what).toBeDefined();
		expect(dangerIn('512 µ ° Ω é 漢 🧤 █\n')).toBeUndefined();
		expect(dangerIn('\u001b[1;31mred\u001b[0m', ownSequences.colour)).toBeUndefined();
		expect(dangerIn('\u001b[1;31mred\u001b[2J', ownSequences.colour)).toBeDefined();
		expect(dangerIn('\u001b[2J\u001b[3;4Hx\u001b[K\u001b[?2026h', ownSequences.screen)).toBeUndefined();
		expect(dangerIn('\u001b[?1003h', ownSequences.screen)).toBeDefined();
	});
});

describe('commands on hostile files', () => {
	const files = ['NAME.gbrec', 'labelsNAME.gbrec', 'NAME.txt'];
	it.each(['', '--markdown', '--markdown --full', '--json', '--follow', '--follow --json', '--ascii'])(
		'check %s',
		async options => {
			for (const file of files) {
				const output = await run(['check', at(file), ...options.split(' ').filter(Boolean)]);
				expectHarmless(output);
				expect(output.stdout.length).toBeGreaterThan(200);
			}
		},
	);

	it('check in colour writes colours of its own only', async () => {
		const output = await run(['check', at('NAME.gbrec')], {color: true});
		expectHarmless(output, ownSequences.colour);
		expect(output.stdout).toContain('\u001b[');
		// Not because nothing was shown.
		expect(output.stdout).toContain('\\x1b]0;owned\\x07');
		expect(output.stdout).toContain('\\u{202e}');
	});

	it.each(['', '--json', '--markdown', '--ascii'])('compare %s', async options => {
		for (const [a, b] of [
			['NAME.gbrec', 'labelsNAME.gbrec'],
			['NAME.txt', 'NAME.gbrec'],
		] as const)
			expectHarmless(await run(['compare', at(a), at(b), ...options.split(' ').filter(Boolean)]));
	});

	it.each(['', '--json', '--header', '--ascii'])('fit %s', async options => {
		for (const file of files) {
			const output = await run(['fit', at(file), ...options.split(' ').filter(Boolean)]);
			// A C program is indented with tabs.
			expectHarmless({...output, stdout: output.stdout.replace(/^\t+/gm, '')});
			if (options === '--header' && output.error === '') expectOneComment(output.stdout);
		}
	});

	/** Device text stands in the first comment only, and cannot leave it (C99 6.4.9, 5.1.1.2 for joined lines and trigraphs). */
	function expectOneComment(header: string): void {
		const end = header.indexOf('*/');
		const comment = header.slice(2, end);
		expect(header.startsWith('/*')).toBe(true);
		expect(comment).not.toMatch(/\/\*|\\\n|\?\?\//);
		expect(header.slice(end)).not.toContain('owned');
		expect(header).toMatch(/^[\n\t -~]*$/);
	}

	it.each(['', '--json'])('bringup %s', async options => {
		for (const file of ['NAME.gbrec', 'labelsNAME.gbrec'])
			expectHarmless(
				await run([
					'bringup',
					at(file),
					'-o',
					at(`built-${options}${file}NAME.toml`),
					...options.split(' ').filter(Boolean),
				]),
			);
	});

	it.each(['', '--json', '--ascii'])('plan %s', async options => {
		for (const file of ['hidingNAME.toml', 'NAME.toml', 'syntaxNAME.toml'])
			expectHarmless(await run(['plan', at(file), ...options.split(' ').filter(Boolean)]));
	});

	it.each(['', '--json'])('sheet check %s', async options => {
		for (const file of ['hidingNAME.toml', 'NAME.toml', 'syntaxNAME.toml']) {
			const output = await run(['sheet', 'check', at(file), ...options.split(' ').filter(Boolean)]);
			expectHarmless(output);
			expect(output.stdout).toContain('owned');
		}
	});

	it('sheet new, to standard output and to a file', async () => {
		for (const [, , text] of attacks)
			expectHarmless(await run(['sheet', 'new', '--board', 'esp32', '--name', `fox ${text}`]));
		expectHarmless(await run(['sheet', 'new', at('newNAME.toml'), '--board', 'esp32']));
	});

	it('share, and what the copy is said to hold', async () => {
		for (const file of files) {
			const output = await run(['share', at(file), '-o', at(`copy-${file}.gbrec`)]);
			expectHarmless(output);
			expect(output.stderr).toContain('owned');
		}
	});

	it('record and simulate into files with hostile names', async () => {
		const recorded = await run(['record', at('NAME.gbrec'), '-o', at('takenNAME.gbrec')]);
		expectHarmless(recorded);
		expect(recorded.stderr).toContain('Recorded');
		expectHarmless(await run(['simulate', '--for', '1s', '-o', at('simNAME.gbrec')]));
		expectHarmless(await run(['simulate', '--for', '1s', '-o', at('simNAME.log')]));
	});

	it('ports whose makers, serial numbers and names are hostile', async () => {
		const ports = attacks.map(([, , text]) => ({
			path: `/dev/ttyUSB0${text}`,
			maker: text,
			vendorId: text,
			productId: text,
			serialNumber: text,
			likelyChip: text,
			problem: text,
		}));
		for (const json of [false, true]) {
			let stdout = '';
			const write = (text: unknown): boolean => {
				stdout += String(text);
				return true;
			};
			await portsCommand({json}, {stdout: {write}, stderr: {write}} as never, async () => ports);
			expectHarmless({stdout, stderr: ''});
			expect(stdout).toContain('owned');
		}
	});

	it('a progress bar with a hostile label', () => {
		let stderr = '';
		let nowMs = 0;
		const write = (text: string): boolean => {
			stderr += text;
			return true;
		};
		const bar = new ProgressBar({isTTY: true, write} as never, `Reading ${allAttacks}`, () => nowMs);
		for (; nowMs < 3000; nowMs += 500) bar.show(nowMs / 3000);
		bar.clear();
		expect(stderr).toContain('50 %');
		// Its own: back to the line's beginning, and EL.
		expect(dangerIn(stderr, /\r|\u001b\[K/g)).toBeUndefined();
	});

	it('check of standard input', async () => {
		const stdin = readFileSync(at('NAME.txt'), 'utf8');
		for (const options of [[], ['--json'], ['--markdown']])
			expectHarmless(await run(['check', '-', ...options], {stdin}));
	});

	it('leaves no file out of the tests above', () => {
		expect(readdirSync(at('')).length).toBeGreaterThan(10);
	});
});
