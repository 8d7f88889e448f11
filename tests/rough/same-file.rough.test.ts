import {spawnSync} from 'node:child_process';
import {linkSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {cliPath} from '../cli/run-cli.ts';
import {tally} from './tries.ts';

const text = '{"glovebench":1}\n{"t":0,"rx":"512,498,473,511,530\\r\\n"}\n{"t":0,"end":true,"bytes":21}\n';
let folder: string;
beforeAll(() => {
	folder = mkdtempSync(join(tmpdir(), 'same-file-'));
	writeFileSync(join(folder, 'x.gbrec'), text);
	symlinkSync('x.gbrec', join(folder, 'link.gbrec'));
	linkSync(join(folder, 'x.gbrec'), join(folder, 'hard.gbrec'));
});
afterAll(() => rmSync(folder, {recursive: true, force: true}));

describe.skipIf(process.platform === 'win32')('a recording into the very file that is read', () => {
	it.each([
		'record - -o x.gbrec --force < x.gbrec',
		'record - -o link.gbrec --force < x.gbrec',
		'record - -o x.gbrec --force < hard.gbrec',
		'record /dev/stdin -o x.gbrec --force < x.gbrec',
		'record /dev/fd/0 -o hard.gbrec --force < link.gbrec',
		'record link.gbrec -o hard.gbrec --force',
		'record x.gbrec -o /dev/fd/1 --force >> x.gbrec',
		'share /dev/stdin -o x.gbrec --force < x.gbrec',
	])('is refused in one line, and the file stays as it is: %s', command => {
		const {status, stderr} = spawnSync('/bin/sh', ['-c', `'${process.execPath}' '${cliPath}' ${command}`], {
			cwd: folder,
			encoding: 'utf8',
		});
		expect(readFileSync(join(folder, 'x.gbrec'), 'utf8')).toBe(text);
		expect(stderr).toMatch(/^glovebench: [^\n]*(?:would be lost|which stays as it is)[^\n]*\n$/);
		expect(status).toBe(2);
		tally('recordings into what is read, refused');
	});
});
