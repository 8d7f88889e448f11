import fc from 'fast-check';
import {parse as parseOther} from 'smol-toml';
import {describe, expect, it} from 'vitest';
import {parseSheet} from '../../source/sheet/parse-sheet.ts';
import {framings, linkKinds, type Sheet} from '../../source/sheet/sheet.ts';
import {sheetSchema} from '../../source/sheet/sheet-schema.ts';
import {writeSheet} from '../../source/sheet/write-sheet.ts';

function withoutLines(sheet: Sheet | undefined): Sheet | undefined {
	return sheet && {...sheet, channels: sheet.channels.map(({line: _, ...channel}) => channel)};
}

const optional = {requiredKeys: [] as never[]};
const millimetres = fc.double({min: 1, max: 100, noNaN: true});
const anySheet: fc.Arbitrary<Sheet> = fc.record(
	{
		name: fc
			.string({unit: 'grapheme', maxLength: 20})
			.filter(text => !/[\u0000-\u001F\u007F-\u009F\u2028-\u202E\u2066-\u2069]/.test(text)),
		board: fc.record(
			{
				family: fc.constantFrom('esp32', 'other'),
				fullScale: fc.integer({min: 1, max: 65_535}),
				supplyVolts: fc.double({min: 1, max: 12, noNaN: true}),
			},
			optional,
		),
		channels: fc.uniqueArray(
			fc.record(
				{
					name: fc.constantFrom('thumb', 'index', 'stick-x', 'button-3', 'counter'),
					pin: fc.constantFrom('A0', 'GPIO32/3', 'P0.02', '7'),
					inverted: fc.boolean(),
					min: fc.integer({min: 0, max: 100}),
					max: fc.integer({min: 101, max: 4095}),
					jointRadiiMm: fc.array(millimetres, {minLength: 1, maxLength: 3}),
				},
				{requiredKeys: ['name']},
			),
			{selector: channel => channel.name, minLength: 0, maxLength: 5},
		),
		reel: fc.record({spoolDiameterMm: millimetres, potOhms: fc.constant(10_000)}, optional),
		link: fc.record(
			{kind: fc.constantFrom(...linkKinds), baud: fc.constant(9600), framing: fc.constantFrom(...framings)},
			optional,
		),
	},
	{requiredKeys: ['channels']},
) as fc.Arbitrary<Sheet>;

describe('writeSheet', () => {
	it('writes what parseSheet reads back, and what another TOML reader accepts', () => {
		fc.assert(
			fc.property(anySheet, sheet => {
				const text = writeSheet(sheet);
				expect(() => parseOther(text)).not.toThrow();
				expect(withoutLines(parseSheet(text).sheet)).toEqual(sheet);
			}),
			{numRuns: 200},
		);
	});

	it('comments every key of every table, used or not', () => {
		const text = writeSheet({channels: [{name: 'thumb'}]});
		for (const [table, {meaning, keys}] of Object.entries(sheetSchema)) {
			expect(text).toContain(`# ${meaning}`);
			for (const [key, rule] of Object.entries(keys)) {
				if (table !== 'channel' || !(key in sheetSchema.reel.keys)) expect(text).toContain(`# ${rule.meaning}`);
				expect(text, key).toMatch(new RegExp(`^(?:# )?${key} = .* # `, 'm'));
			}
		}
	});

	it('gives examples that are right as soon as their marks are taken away', () => {
		const text = writeSheet({channels: [{name: 'thumb'}]});
		const opened = text.replace(/^# (?=\w+ = |\[)/gm, '').replace(/^(?:min|max) = .*\n/gm, '');
		expect(parseSheet(opened).problems).toEqual([]);
	});

	it('keeps a comment on its line whatever is put into it', () => {
		const text = writeSheet({channels: []}, ['a\n[board]\nfamily = "esp32"', '\u0000b']);
		expect(parseSheet(text).sheet).toEqual({channels: []});
	});

	it('replaces half a surrogate pair, which TOML cannot say', () => {
		expect(parseSheet(writeSheet({name: 'x\ud800y', channels: []})).sheet?.name).toBe('x\ufffdy');
	});
});
