import {readdirSync, readFileSync} from 'node:fs';
import {join} from 'node:path';
import {describe, expect, it} from 'vitest';
import {cliPath} from './run-cli.ts';

const dist = join(cliPath, '..');
const files = readdirSync(dist)
	.filter(name => name.endsWith('.js'))
	.map(name => readFileSync(join(dist, name), 'utf8'));
const notices = readFileSync(join(dist, 'THIRD-PARTY.txt'), 'utf8')
	.split(/^-{79}\n/m)
	.slice(1);

describe('dist/', () => {
	it('carries a notice for every package whose code is in it, and for no other', () => {
		// The bundler writes above each part which file it is from.
		const bundled = files.flatMap(text =>
			[...text.matchAll(/^\/\/ .*node_modules\/((?:@[^/\s]+\/)?[^/\s]+)\/\S+$/gm)].map(([, name]) => name),
		);
		const noticed = notices.map(notice => /^(\S+) \d+\.\d+\.\d+\S*, /.exec(notice)?.[1]);
		expect(new Set(bundled).size).toBeGreaterThan(20);
		expect([...new Set(noticed)].sort()).toEqual([...new Set(bundled)].sort());
	});

	it('gives with each the words of a licence', () => {
		for (const notice of notices) {
			expect(notice.length, notice.slice(0, 80)).toBeGreaterThan(500);
			expect(notice).toMatch(/copyright/i);
			expect(notice).toMatch(/permission|redistribution|licensed under|MIT License|Apache License/i);
		}
	});

	it("holds nothing of a developer's tools, whatever the environment says", () => {
		for (const text of files) expect(text).not.toMatch(/react-devtools-core|connectToDevTools|process\.env\.DEV\b/);
		for (const text of files) expect(text).not.toMatch(/process\.env\[['"]DEV['"]\]/);
	});
});
