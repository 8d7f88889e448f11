import {readdirSync, readFileSync} from 'node:fs';
import path from 'node:path';
import {describe, expect, test} from 'vitest';

const root = new URL('../../', import.meta.url).pathname;

/** What runs for every frame or block. */
const folders = ['features', 'faults', 'framing', 'math', 'session'];

/** Several names at once from an array that is written beside them. */
const pattern = /^\s*(?:const|let) \[[^\]]*\] = \[/;

describe('code that runs for every frame or block', () => {
	test('declares one name at a time: an array that is made to be taken apart costs an iterator, in compiled code too', () => {
		// Measured on medians of four numbers: 13 ns with the array, 5 ns without.
		const found = folders.flatMap(folder =>
			readdirSync(path.join(root, 'source', folder), {recursive: true, encoding: 'utf8'})
				.filter(name => name.endsWith('.ts'))
				.flatMap(name =>
					readFileSync(path.join(root, 'source', folder, name), 'utf8')
						.split('\n')
						.flatMap((line, i) => (pattern.test(line) ? [`${folder}/${name}:${i + 1} ${line.trim()}`] : [])),
				),
		);
		expect(found).toEqual([]);
	});
});
