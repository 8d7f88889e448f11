import {spawnSync} from 'node:child_process';
import {readFileSync} from 'node:fs';
import {join} from 'node:path';
import {describe, expect, it} from 'vitest';

const root = join(import.meta.dirname, '../..');
const page = readFileSync(join(root, 'docs/session.md'), 'utf8');

const block = (kind: string) => new RegExp(`^\`\`\`${kind}\\n([\\s\\S]*?)^\`\`\`$`, 'm').exec(page)![1];

describe('docs/session.md', () => {
	// A package reaches what it exports by its own name (Node, "self-referencing a package using its name").
	it('has an example that prints what is shown', () => {
		const {stdout, stderr} = spawnSync(process.execPath, ['--input-type=module', '--eval', block('js')], {
			cwd: root,
			encoding: 'utf8',
		});
		expect(stderr).toBe('');
		expect(stdout).toBe(block('text'));
	});

	it('tells of a core that loads nothing of Node and no package', () => {
		const built = readFileSync(join(root, 'dist/session.js'), 'utf8');
		expect(built).not.toMatch(/^import\b|\brequire\(|\bprocess\.|\bimport\(/m);
	});
});
