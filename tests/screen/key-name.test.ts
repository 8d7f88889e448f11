import {describe, expect, it} from 'vitest';
import {keyNames} from '../../source/screen/key-name.ts';

describe('keyNames', () => {
	it('names keys that type nothing', () => {
		expect(keyNames('', {upArrow: true})).toEqual(['up']);
		expect(keyNames('', {return: true})).toEqual(['enter']);
		expect(keyNames('', {escape: true, meta: true})).toEqual(['escape']);
		expect(keyNames('', {delete: true})).toEqual(['backspace']);
		expect(keyNames('c', {ctrl: true})).toEqual(['ctrl-c']);
	});

	it('takes quick typing and pastes apart', () => {
		expect(keyNames('to ?', {})).toEqual(['t', 'o', 'space', '?']);
		expect(keyNames('reel\r', {})).toEqual(['r', 'e', 'e', 'l', 'enter']);
		expect(keyNames('糸é', {})).toEqual(['糸', 'é']);
		expect(keyNames('a\u0003', {})).toEqual(['a', 'ctrl-c']);
	});

	it('drops control characters and Alt combinations', () => {
		expect(keyNames('a\u0000b\u001B', {})).toEqual(['a', 'b']);
		expect(keyNames('x', {meta: true})).toEqual([]);
	});
});
