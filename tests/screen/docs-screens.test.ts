import {readFileSync, writeFileSync} from 'node:fs';
import {expect, it} from 'vitest';

const golden = (name: string) => readFileSync(new URL(`golden/${name}.txt`, import.meta.url), 'utf8');

/** What a reader is shown, page by page. In docs/dashboard.md: every page at the size it was drawn for, one large screen, two gloves, ASCII. */
const shown: Readonly<Record<string, readonly string[]>> = {
	'README.md': ['overview-80x24'],
	'docs/dashboard.md': [
		'overview-80x24',
		'bench-80x24',
		'trend-80x24',
		'findings-80x24',
		'finding-80x24',
		'link-80x24',
		'stick-80x24',
		'overview-140x45',
		'two-gloves-140x36',
		'overview-ascii-80x24',
	],
};

/** A screen in the page: its golden file's name in a comment, and the screen as text. */
const block = /<!-- screen: (\S+) -->\n\n```text\n([\s\S]*?)```\n/g;

it.each(Object.entries(shown))('%s shows the screens as the program draws them', (file, names) => {
	const docs = new URL(`../../${file}`, import.meta.url);
	const page = readFileSync(docs, 'utf8');
	// Like the golden files themselves.
	if (process.env.GOLDEN === 'write') {
		writeFileSync(
			docs,
			page.replaceAll(block, (_, name: string) => `<!-- screen: ${name} -->\n\n\`\`\`text\n${golden(name)}\`\`\`\n`),
		);
	}

	const screens = new Map([...readFileSync(docs, 'utf8').matchAll(block)].map(match => [match[1], match[2]]));
	expect([...screens.keys()]).toEqual(names);
	for (const [name, screen] of screens) expect(screen, name).toBe(golden(name));
});
