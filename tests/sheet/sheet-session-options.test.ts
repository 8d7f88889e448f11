import {expect, it} from 'vitest';
import {sheetSessionOptions} from '../../source/sheet/sheet-session-options.ts';

it('declares what the sheet says and nothing else', () => {
	expect(sheetSessionOptions({channels: []})).toEqual({});
	expect(
		sheetSessionOptions({
			channels: [{name: 'thumb'}, {name: '-'}, {name: 'spare-2'}, {name: 'button-1'}],
			board: {fullScale: 1023},
			link: {baud: 9600, targetRate: 50, framing: 'slip'},
		}),
	).toEqual({baud: 9600, fullScale: 1023, targetRate: 50, layout: 'slip:thumb,-,-,button-1'});
});
