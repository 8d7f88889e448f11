import {readFileSync} from 'node:fs';
import {describe, expect, it} from 'vitest';
import {commandTable} from '../../source/command-line/command-table.ts';
import {sharedName} from '../../source/share/removed.ts';

const page = readFileSync(new URL('../../docs/share.md', import.meta.url), 'utf8');

describe('docs/share.md', () => {
	it('names the options that share takes to choose a span, and what the copy is called', () => {
		const {options = []} = commandTable.find(({name}) => name === 'share') ?? {};
		for (const option of ['from', 'to', 'all', 'force'] as const) {
			expect(options).toContain(option);
			expect(page).toContain(`\`--${option}\``);
		}

		expect(page).toContain(`| \`${sharedName}\` |`);
		expect(page).toContain(`\`${new Date(0).toISOString()}\``);
	});
});
