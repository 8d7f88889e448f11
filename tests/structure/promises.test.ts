import {readFileSync} from 'node:fs';
import {dirname, join, normalize} from 'node:path';
import ts from 'typescript';
import {describe, expect, test} from 'vitest';

const root = new URL('../../', import.meta.url).pathname;
const read = (file: string) => readFileSync(join(root, file), 'utf8');

/** A module and every module of ours that it imports, at once or later; packages by name. */
function reach(entry: string, into = new Set<string>()): Set<string> {
	if (into.has(entry)) return into;
	into.add(entry);
	for (const {fileName} of ts.preProcessFile(read(entry), true, true).importedFiles) {
		if (fileName.startsWith('.')) reach(normalize(join(dirname(entry), fileName)), into);
		else into.add(fileName);
	}

	return into;
}

/** What a program has to be able to ask for to do more than it says. */
const sends = /\b(?:fetch|WebSocket|XMLHttpRequest|sendBeacon)\b/;
const network = ['node:http', 'node:https', 'node:http2', 'node:net', 'node:dgram', 'node:dns', 'node:tls'];

describe('ports', () => {
	const modules = [...reach('source/commands/ports.ts')];

	test('opens no port: it cannot even reach what could, so no board is restarted by being listed', () => {
		expect(modules).not.toContain('source/sources/serial.ts');
		const opening = modules
			.filter(name => name.startsWith('source/'))
			.filter(name =>
				/import \{[^}]*\bopen(?:Sync)?\b[^}]*\} from 'node:fs|createReadStream|\bnew SerialPort\b|import\('node:fs/.test(
					read(name),
				),
			);
		expect(opening).toEqual([]);
	});

	test('starts no program and sends nothing', () => {
		expect(modules.filter(name => name === 'node:child_process' || network.includes(name))).toEqual([]);
		expect(modules.filter(name => name.startsWith('source/') && sends.test(read(name)))).toEqual([]);
	});
});

describe('share', () => {
	const command = read('source/commands/share.ts');

	test('writes by one way only: a recording, whose header is named field by field', () => {
		expect(command.match(/RecordingWriter\.create/g)).toHaveLength(1);
		expect(command).not.toMatch(/\b(?:writeFile|appendFile|createWriteStream|copyFile|rename|rm|unlink|truncate)\b/);
		// Neither the note nor the date of the original gets there, nor what else a header said.
		const [, given] = /RecordingWriter\.create\(output, \{([\s\S]*?)\n\t\}\)/.exec(command) ?? [];
		expect(given.match(/^\t\t(?:\.\.\.\()?\w+/gm)?.map(each => each.trim())).toEqual([
			'source',
			'...(sheet',
			'startedAt',
			'...(force',
		]);
		expect(command).toMatch(/name: sharedName/);
	});

	test('lets through bytes and bare events alone, no mark and no detail', () => {
		const cut = read('source/share/cut-items.ts');
		const [pushed] = cut.match(/cut\.push\(.*\)/g) ?? [];
		expect(cut.match(/cut\.push\(/g)).toHaveLength(1);
		expect(pushed).toBe("cut.push('bytes' in item ? {t, bytes: item.bytes} : {t, event: item.event})");
	});

	test('sends nothing: nothing of it speaks to a network', () => {
		for (const name of reach('source/share/share-report.ts')) expect(network).not.toContain(name);
		for (const file of ['source/commands/share.ts', 'source/share/cut-items.ts', 'source/share/removed.ts'])
			expect(read(file)).not.toMatch(sends);
	});
});
