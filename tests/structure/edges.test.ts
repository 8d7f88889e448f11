import {spawnSync} from 'node:child_process';
import {mkdirSync, mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterEach, beforeEach, expect, it} from 'vitest';

const root = new URL('../../', import.meta.url).pathname;
let folder: string;

beforeEach(() => {
	folder = mkdtempSync(path.join(tmpdir(), 'edges-'));
});
afterEach(() => rmSync(folder, {recursive: true}));

/** Runs the check of the edges over a folder `edge/` that holds one file, which imports from beside it. */
function checkEdge(text: string): {readonly status: number | null; readonly stdout: string; readonly stderr: string} {
	const config = {
		extends: path.join(root, 'tests/tsconfig.edges.json'),
		compilerOptions: {types: []},
		include: ['edge'],
	};
	writeFileSync(path.join(folder, 'package.json'), '{"type": "module"}');
	writeFileSync(path.join(folder, 'tsconfig.json'), JSON.stringify(config));
	writeFileSync(path.join(folder, 'beside.ts'), 'export const firstOf = (list: number[]): number => list[0];\n');
	mkdirSync(path.join(folder, 'edge'));
	writeFileSync(path.join(folder, 'edge/one.ts'), text);
	const script = path.join(root, 'tests/tools/edges.mjs');
	return spawnSync(process.execPath, [script, path.join(folder, 'tsconfig.json')], {cwd: root, encoding: 'utf8'});
}

it('fails with place and message where an edge takes from a list what may not be there', () => {
	const {status, stdout} = checkEdge('export const secondOf = (list: number[]): number => list[1];\n');
	expect(stdout).toMatch(/edge\/one\.ts\(1,53\): error TS2322: Type 'number \| undefined'/);
	expect(status).toBe(1);
});

it('leaves what an edge imports to the check of the whole', () => {
	const {status, stdout, stderr} = checkEdge(
		"import {firstOf} from '../beside.ts';\nexport const one = firstOf([1]);\n",
	);
	expect([status, stdout, stderr]).toEqual([0, '', '']);
});

it('fails where there is nothing to check', () => {
	const {status, stdout} = spawnSync(
		process.execPath,
		[path.join(root, 'tests/tools/edges.mjs'), path.join(folder, 'none.json')],
		{
			cwd: root,
			encoding: 'utf8',
		},
	);
	expect(stdout).toMatch(/error TS\d+: .*none\.json/);
	expect(status).toBe(1);
});
