import {readFileSync} from 'node:fs';
import {expect, it} from 'vitest';
import {boards} from '../../source/sheet/boards/all.ts';
import {sheetPage} from '../../source/sheet/sheet-page.ts';
import {sheetSchema} from '../../source/sheet/sheet-schema.ts';

it('docs/sheet.md is what the schema gives (run `npm run docs` when this fails)', () => {
	expect(readFileSync(new URL('../../docs/sheet.md', import.meta.url), 'utf8')).toBe(sheetPage());
});

it('explains every key and every pin', () => {
	const page = sheetPage();
	for (const {keys} of Object.values(sheetSchema))
		for (const key of Object.keys(keys)) expect(page).toContain(`\`${key}\``);
	for (const {pins} of boards) for (const {name} of pins) expect(page).toContain(`| ${name} |`);
});
