import {existsSync, readdirSync, readFileSync} from 'node:fs';
import path from 'node:path';
import {expect, it} from 'vitest';
import {commandTable} from '../../source/command-line/command-table.ts';

const root = new URL('../../', import.meta.url);
const read = (name: string): string => readFileSync(new URL(name, root), 'utf8');
const pages = ['README.md', 'DEVELOPERS.md', ...readdirSync(new URL('docs/', root)).map(name => `docs/${name}`)].filter(
	name => name.endsWith('.md'),
);

/** What stands for a name of one's own. */
const placeholders = /\/(?:x|the-code)\./;

/** Files and folders of this repository that a page names in passing. */
function namedFiles(text: string): string[] {
	return [...text.matchAll(/`((?:source|tests|recordings|docs)\/[\w./-]+)`/g)]
		.map(([, name]) => name)
		.filter(name => !placeholders.test(name));
}

it.each(pages)('%s names no file that is not there', page => {
	const missing = namedFiles(read(page)).filter(name => !existsSync(new URL(name, root)));
	expect(missing).toEqual([]);
});

it.each(pages)('%s links to no page that is not there', page => {
	const links = [...read(page).matchAll(/\]\((?!https?:|#)([^)#\s]+)/g)].map(([, target]) => target);
	const missing = links.filter(target => !existsSync(new URL(path.posix.join(path.posix.dirname(page), target), root)));
	expect(missing).toEqual([]);
});

it('tells of this version, and of every command', () => {
	const changes = read('docs/changelog.md');
	expect(changes).toContain(`## ${(JSON.parse(read('package.json')) as {version: string}).version}\n`);
	for (const {name} of commandTable) expect(changes, name).toMatch(new RegExp(`\\b${name}\\b`));
});
