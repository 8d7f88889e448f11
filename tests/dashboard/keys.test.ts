import {readFileSync} from 'node:fs';
import {describe, expect, it} from 'vitest';
import {keyLine, keyPage} from '../../source/dashboard/key-line.ts';
import {entriesFor, keyTable, messageForKey} from '../../source/dashboard/keys.ts';
import {initialViewState, type Page} from '../../source/dashboard/view-state.ts';
import {rowText, rowWidth} from '../../source/screen/rows.ts';

const live = initialViewState({mode: 'live', gloves: 1});
const replay = initialViewState({mode: 'replay', gloves: 2});

const pages: readonly Page[] = ['overview', 'bench', 'trend', 'findings', 'checks', 'link', 'stick'];

describe('the key table', () => {
	it('gives every key one meaning everywhere, whatever the mode; capitals differ', () => {
		const keys = keyTable.flatMap(entry => entry.keys);
		expect(keys.toSorted()).toEqual([...new Set(keys)].toSorted());
		expect(keys).toEqual(expect.arrayContaining(['z', 'Z', 'n', 'N', 'k', 'K']));
	});

	it('has a key for every page', () => {
		for (const page of pages) {
			const entry = keyTable.find(({group, message, keys}) => {
				const means = group === 'pages' ? message(keys[0]) : undefined;
				return means?.type === 'page' && means.page === page;
			})!;
			expect(messageForKey(entry.keys[0], live)).toEqual({type: 'page', page});
		}
	});

	it('tells where a key does something that does nothing here', () => {
		expect(messageForKey('n', live)).toEqual({type: 'no-use', key: 'n', where: 'replay'});
		expect(messageForKey('r', replay)).toEqual({type: 'no-use', key: 'r', where: 'live'});
		expect(messageForKey('x', live)).toEqual({type: 'no-use', key: 'x', where: 'bringup'});
		expect(messageForKey('x', {...live, guided: true})).toEqual({type: 'guide', what: 'skip'});
		expect(messageForKey('j', live)).toEqual({type: 'no-use', key: 'j', where: 'anywhere'});
	});

	it('is the one in docs/dashboard.md', () => {
		const docs = readFileSync(new URL('../../docs/dashboard.md', import.meta.url), 'utf8');
		for (const entry of keyTable) expect(docs).toContain(`| \`${entry.label}\` | ${entry.help} |`);
	});
});

describe('messageForKey', () => {
	it('plays at the speed of the digit', () => {
		expect(messageForKey('1', replay)).toEqual({type: 'speed', speed: 0.1});
		expect(messageForKey('4', replay)).toEqual({type: 'speed', speed: 1});
		expect(messageForKey('9', replay)).toEqual({type: 'speed', speed: 100});
		expect(messageForKey('4', live)).toMatchObject({type: 'no-use'});
	});

	it('takes letters as letters while a note is typed, Ctrl-C excepted', () => {
		const typing = {...live, entry: {what: 'mark' as const, text: ''}};
		expect(messageForKey('q', typing)).toEqual({type: 'entry-typed', text: 'q'});
		expect(messageForKey('space', typing)).toEqual({type: 'entry-typed', text: ' '});
		expect(messageForKey('enter', typing)).toEqual({type: 'entry-keep'});
		expect(messageForKey('escape', typing)).toEqual({type: 'entry-drop'});
		expect(messageForKey('up', typing)).toBeUndefined();
		expect(messageForKey('ctrl-c', typing)).toEqual({type: 'interrupt'});
	});

	it('has the other glove’s key only where there is one', () => {
		expect(messageForKey('g', live)).toEqual({type: 'no-use', key: 'g', where: 'two'});
		expect(messageForKey('g', replay)).toEqual({type: 'other-glove'});
	});
});

describe('the key line', () => {
	it('always fits, and always shows how to leave and where the other keys are', () => {
		for (const state of [live, replay]) {
			for (const width of [59, 79, 139]) {
				for (const page of [...pages, 'keys'] as Page[]) {
					const line = keyLine({...state, page}, width);
					expect(rowWidth(line)).toBeLessThanOrEqual(width + 2);
					expect(rowText(line)).toContain('q quit');
					if (page !== 'keys') expect(rowText(line)).toContain('? keys');
				}
			}
		}
	});
});

describe('the keys page', () => {
	it('lists every key of its mode with its meaning', () => {
		const text = keyPage(live).map(rowText).join('\n');
		for (const entry of entriesFor(live)) expect(text).toContain(entry.help);
		expect(text).not.toContain('one frame back');
	});
});
