import {readFileSync} from 'node:fs';
import {describe, expect, it} from 'vitest';
import {hostileFolder, hostileName} from './hostile-files.ts';
import {runCommand} from './run-command.ts';
import {dangerIn} from './terminal-attacks.ts';

const at = hostileFolder();

const files = [`${hostileName}.gbrec`, `labels${hostileName}.gbrec`, `${hostileName}.txt`];

describe('the page of a hostile recording', () => {
	it('holds our own elements and attributes only, no address, and nothing that hides', async () => {
		const elements = new Set<string>();
		const attributes = new Set<string>();
		for (const [index, file] of files.entries()) {
			const page = at(`page-${index}.html`);
			expect((await runCommand(['check', at(file), '--html', page])).error).toBe('');
			const html = readFileSync(page, 'utf8');
			expect(dangerIn(html)).toBeUndefined();
			// What a log holds of a terminal's own sequences is taken off before anything is read.
			if (!file.endsWith('.txt')) expect(html).toContain('owned');
			const body = html.replace(/<style>[^<]*<\/style>/, '');
			for (const [, name, rest] of body.matchAll(/<\/?([^\s>/]+)([^>]*)>/g)) {
				elements.add(name!.toLowerCase());
				// Every value stands in quotes that it does not hold.
				expect(rest!.replace(/\s[a-zA-Z:-]+(?:="[^"<>]*")?/g, '').replace(/\s*\/$/, '')).toBe('');
				for (const [, attribute, value] of rest!.matchAll(/\s([a-zA-Z:-]+)(?:="([^"]*)")?/g)) {
					attributes.add(attribute!.toLowerCase());
					if (attribute === 'href') expect(value).toMatch(/^#[\w-]+$/);
				}
			}

			// Outside of elements no sign is left that could begin one.
			expect(body.replace(/<[^<>]*>/g, '')).not.toMatch(/[<>]/);
		}

		for (const name of [
			'script',
			'img',
			'iframe',
			'object',
			'link',
			'form',
			'base',
			'a:b',
			'foreignobject',
			'animate',
			'use',
			'image',
		])
			expect(elements).not.toContain(name);
		for (const name of attributes) expect(name).not.toMatch(/^(?:on|src|style|srcset|action|formaction|data|xlink)/);
		expect(elements.size).toBeGreaterThan(10);
	});
});

/** What is left of Markdown when everything that is text for sure has gone: escaped signs, code spans, fenced blocks. */
function markupOf(markdown: string): string {
	const fences = markdown.match(/^```/gm) ?? [];
	expect(fences.length % 2).toBe(0);
	return markdown
		.replace(/^```\n[^`]*^```$/gm, '')
		.replace(/\\[!-/:-@[-`{-~]/g, '')
		.replace(/`[^`\n]*`/g, '');
}

describe('Markdown of hostile recordings', () => {
	it.each([
		['check', '--markdown'],
		['check', '--markdown', '--full'],
		['compare', '--markdown'],
	])('%s %s %s forms no link, picture, HTML, mention or heading', async (command, ...options) => {
		for (const file of files) {
			const {stdout} = await runCommand([
				command!,
				at(file),
				...(command === 'compare' ? [at(files[1]!)] : []),
				...options.filter(option => option !== undefined),
			]);
			expect(dangerIn(stdout)).toBeUndefined();
			const markup = markupOf(stdout)
				.replace(/^\|[- :|]*\|$/gm, '')
				.replace(/^\| | \| | \|$/gm, ' ')
				.replace(/\*\*/g, '');
			expect(markup).not.toMatch(/[<`[\]*_~|#&@]|:\/\/|www\./);
			// Emphasis is ours: it opens and closes in a line.
			for (const line of stdout.split('\n'))
				expect((line.replace(/\\\*/g, '').match(/\*\*/g) ?? []).length % 2).toBe(0);
		}
	});
});
