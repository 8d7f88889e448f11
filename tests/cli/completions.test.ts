import {spawnSync} from 'node:child_process';
import {existsSync, mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {describe, expect, it} from 'vitest';
import {commandTable} from '../../source/command-line/command-table.ts';
import {bashCompletions} from '../../source/command-line/completions-bash.ts';
import {fishCompletions} from '../../source/command-line/completions-fish.ts';
import {zshCompletions} from '../../source/command-line/completions-zsh.ts';
import {commonOptions, optionTable} from '../../source/command-line/option-table.ts';

const hasShell = (name: string) =>
	['/bin', '/usr/bin', '/usr/local/bin'].some(folder => existsSync(`${folder}/${name}`));

/** What bash offers for a line whose words are these, the last being completed. */
function offered(words: readonly string[], cwd = '/'): string[] {
	const quoted = words.map(word => `'${word}'`).join(' ');
	const script = `${bashCompletions()}\nCOMP_WORDS=(${quoted}); COMP_CWORD=${words.length - 1}; _glovebench; printf '%s\\n' "\${COMPREPLY[@]}"`;
	const {stdout, stderr, status} = spawnSync('bash', ['--norc', '-c', script], {encoding: 'utf8', cwd});
	expect(stderr).toBe('');
	expect(status).toBe(0);
	return stdout.split('\n').filter(Boolean);
}

describe.skipIf(!hasShell('bash'))('completions for bash', () => {
	it('offer the commands', () => {
		expect(offered(['glovebench', 'ch'])).toEqual(['check']);
		expect(offered(['glovebench', ''])).toEqual([...commandTable.map(({name}) => name), 'help', '--help', '--version']);
	});

	it('offer the options of the command and no others', () => {
		expect(offered(['glovebench', 'check', '--fo'])).toEqual(['--for', '--follow']);
		expect(offered(['glovebench', 'explain', '--ba'])).toEqual([]);
	});

	it('offer the allowed words of an option, also after an equals sign', () => {
		expect(offered(['glovebench', 'simulate', '--format', 's'])).toEqual(['space', 'semicolon', 'slip']);
		expect(offered(['glovebench', 'simulate', '--format', '=', 's'])).toEqual(['space', 'semicolon', 'slip']);
		expect(offered(['glovebench', 'completions', 'z'])).toEqual(['zsh']);
	});

	it('offer the codes of --fault and --why, and behind a colon the channels that a code can be found on', () => {
		expect(offered(['glovebench', 'simulate', '--fault', 'stick-no'])).toEqual([
			'stick-no-return',
			'stick-no-return:stick-x',
			'stick-no-return:stick-y',
		]);
		// What bash makes of `dropout:ri`: three words.
		expect(offered(['glovebench', 'simulate', '--fault', 'dropout', ':', 'ri'])).toEqual(['ring']);
		expect(offered(['glovebench', 'simulate', '--fault', 'button-held', ':'])).toEqual(['button-1', 'button-2']);
		expect(offered(['glovebench', 'simulate', '--fault', '=', 'dropout', ':', 'ri'])).toEqual(['ring']);
		expect(offered(['glovebench', 'check', 'x', '--why', 'narrow-span', ':', 'th'])).toEqual(['thumb']);
		expect(offered(['glovebench', 'simulate', '--fault', 'stall', ':'])).toEqual([]);
		expect(offered(['glovebench', 'explain', 'narrow'])).toEqual(['narrow-span']);
	});

	it('offer files where a file belongs, and nothing where a number does', () => {
		const folder = mkdtempSync(path.join(tmpdir(), 'glovebench-completions-'));
		writeFileSync(path.join(folder, 'left.gbrec'), '');
		expect(offered(['glovebench', 'check', 'le'], folder)).toEqual(['left.gbrec']);
		expect(offered(['glovebench', 'check', '--sheet', 'le'], folder)).toEqual(['left.gbrec']);
		expect(offered(['glovebench', 'check', '--baud', 'le'], folder)).toEqual([]);
		rmSync(folder, {recursive: true});
	});

	it('offer a name with blanks as one, also where its beginning was typed with a backslash or a quotation mark', () => {
		const folder = mkdtempSync(path.join(tmpdir(), 'glovebench-completions-'));
		writeFileSync(path.join(folder, 'left of the fox.gbrec'), '');
		writeFileSync(path.join(folder, 'left.gbrec'), '');
		for (const word of ['left of', 'left\\ of', '"left of']) {
			expect(offered(['glovebench', 'check', word], folder), word).toEqual(['left of the fox.gbrec']);
			expect(offered(['glovebench', 'replay', 'x', '--sheet', word], folder), word).toEqual(['left of the fox.gbrec']);
		}

		expect(offered(['glovebench', 'check', 'le'], folder).sort()).toEqual(['left of the fox.gbrec', 'left.gbrec']);
		rmSync(folder, {recursive: true});
	});

	it('offer the codes to explain', () => {
		expect(offered(['glovebench', 'explain', 'floa'])).toEqual(['floating-input']);
	});

	it('offer faults, chips and links, and auto only where a port is opened', () => {
		expect(offered(['glovebench', 'simulate', '--fault', 'floa'])[0]).toBe('floating-input');
		expect(offered(['glovebench', 'simulate', '--board', 'esp32-'])).toEqual(['esp32-s3', 'esp32-c3']);
		expect(offered(['glovebench', 'sheet', 'new', '--board', 'esp32-'])).toEqual(['esp32-s3', 'esp32-c3']);
		expect(offered(['glovebench', 'sheet', 'new', '--link', 'b'])).toEqual(['bluetooth']);
		expect(offered(['glovebench', 'check', '--baud', 'a'])).toEqual(['auto']);
		expect(offered(['glovebench', 'replay', '--baud', 'a'])).toEqual([]);
		expect(offered(['glovebench', 'replay', '--no-re'])).toEqual([]);
	});
});

describe.skipIf(!hasShell('fish'))('completions for fish', () => {
	/** What fish offers for the beginning of a line, without the descriptions. */
	function fishOffers(line: string): string[] {
		const script = `${fishCompletions()}\ncomplete -C '${line}'`;
		const {stdout, stderr} = spawnSync('fish', ['--no-config', '-c', script], {encoding: 'utf8', cwd: '/'});
		expect(stderr).toBe('');
		return stdout
			.split('\n')
			.filter(Boolean)
			.map(offer => offer.split('\t')[0]);
	}

	it('offer commands, options, words and codes', () => {
		expect(fishOffers('glovebench ch')).toEqual(['check']);
		expect(fishOffers('glovebench check --fo')).toEqual(['--follow', '--for']);
		expect(fishOffers('glovebench simulate --format s')).toEqual(['semicolon', 'slip', 'space']);
		expect(fishOffers('glovebench explain floa')).toEqual(['floating-input']);
	});

	it('say nothing about ports where there are none', () => {
		expect(fishOffers('glovebench attach /no-such-place/x')).toEqual([]);
	});
});

describe('completions of all shells', () => {
	it('know every command, option and word of the table', () => {
		for (const script of [bashCompletions(), zshCompletions(), fishCompletions()]) {
			for (const {name, options} of commandTable) {
				expect(script).toContain(name);
				for (const option of [...options, ...commonOptions]) {
					expect(script).toContain(optionTable[option].on ? `no-${option}` : option);
					for (const word of optionTable[option].words ?? []) expect(script).toContain(word);
				}
			}
		}
	});

	it('are read by zsh without complaint, where it is installed', () => {
		if (!hasShell('zsh')) {
			console.info('zsh is not installed: its completions were not read.');
			return;
		}

		const {status, stderr} = spawnSync('zsh', ['-f', '-n'], {input: zshCompletions(), encoding: 'utf8'});
		expect(stderr).toBe('');
		expect(status).toBe(0);
	});
});
