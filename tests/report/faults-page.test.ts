import {readFileSync} from 'node:fs';
import {expect, it} from 'vitest';
import {faults, findFault} from '../../source/faults/registry.ts';
import {faultsPage} from '../../source/report/faults-page.ts';

const docs = new URL('../../docs/', import.meta.url);

it('docs/faults.md is what the catalogue gives (run `npm run docs` when this fails)', () => {
	expect(readFileSync(new URL('faults.md', docs), 'utf8')).toBe(faultsPage(faults));
});

it('has a heading and a line in the list for every code, and no other links', () => {
	const page = faultsPage(faults);
	for (const {code} of faults) {
		expect(page).toContain(`\n## ${code}\n`);
		expect(page).toContain(`| [${code}](#${code}) |`);
	}
	const targets = [...page.matchAll(/\]\((?!#)([^)]+)\)/g)].map(match => match[1]);
	for (const target of targets) expect(() => readFileSync(new URL(target, docs))).not.toThrow();
});

it('keeps signs from being taken for Markdown', () => {
	const fault = {...findFault('stall')!, definition: 'a < b | c * d', measurements: [{measure: 'x | y', expect: '*'}]};
	const page = faultsPage([fault]);
	expect(page).toContain('a \\< b \\| c \\* d');
	expect(page).toContain('| x \\| y | \\* |');
});
