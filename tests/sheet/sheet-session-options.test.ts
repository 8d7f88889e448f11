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

it('declares fingers of which both ends are given, with their direction where it is', () => {
	const {fingers} = sheetSessionOptions({
		channels: [
			{name: 'thumb', min: 200, max: 600},
			{name: 'index', min: 210, inverted: true},
			{name: 'ring', min: 220, max: 610, inverted: true, pin: 'A3'},
			{name: 'stick-x', min: 0, max: 1023},
		],
	});
	expect(fingers).toEqual({thumb: {min: 200, max: 600}, ring: {min: 220, max: 610, inverted: true}});
});
