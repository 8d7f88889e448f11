import {readdirSync, readFileSync} from 'node:fs';
import {join} from 'node:path';
import {describe, expect, it} from 'vitest';

const root = join(import.meta.dirname, '../..');
const page = readFileSync(join(root, 'docs/check-values.md'), 'utf8');
const rows = new Set([...page.matchAll(/^\| ([A-Z]\d+(?:\.\d)?|M-[A-Z]) \| /gm)].map(([, name]) => name)).add('H-real');

const texts = ['source', 'tests', 'docs'].flatMap(folder =>
	readdirSync(join(root, folder), {recursive: true, encoding: 'utf8'})
		.filter(name => /\.(?:tsx?|mjs|md)$/.test(name) && !/citations\.test/.test(name))
		.map(name => [join(folder, name), readFileSync(join(root, folder, name), 'utf8')] as const),
);

describe('a source of a value', () => {
	it('is a row of docs/check-values.md', () => {
		const missing = texts.flatMap(([file, text]) =>
			[...text.matchAll(/[Cc]heck-values\s+(?:(?:\*|\/\/)\s+)?((?:M-)?[A-Z]\d*(?:\.\d)?(?:-real)?)/g)]
				.map(([, name]) => name)
				.filter(name => !rows.has(name))
				.map(name => `${file}: ${name}`),
		);
		expect(missing).toEqual([]);
		expect(texts.filter(([, text]) => /[Cc]heck-values [A-Z]/.test(text)).length).toBeGreaterThan(100);
	});

	it('is none that the repository does not hold', () => {
		for (const [file, text] of texts) {
			expect(text, file).not.toMatch(
				/\b(?:facts|specs|design|style|screens)\.md\b(?!\|TODO)|\b[Dd]esign §|\b[Ff]acts [A-Z]\d|\bspecs [A-Z]\b/,
			);
		}
	});
});
