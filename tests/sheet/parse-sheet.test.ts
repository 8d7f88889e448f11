import fc from 'fast-check';
import {parse as parseOther} from 'smol-toml';
import {describe, expect, it} from 'vitest';
import {parseSheet, sheetFromJson} from '../../source/sheet/parse-sheet.ts';

const good = `# the fox's left glove
name = "fox, left"

[board]
family = "esp32"
full_scale = 4095
supply_volts = 3.3

[[channel]]
name = "thumb"
pin = 32
inverted = true
min = 310
max = 3_480

[[channel]]
name = "index"
pin = "GPIO33"
cord_travel_mm = 41.5

[reel]
spool_diameter_mm = 16
joint_radii_mm = [10, 8, 6]

[link]
kind = "bluetooth"
target_rate = 60
`;

/** Problems as the command line shows them. */
function problems(text: string): string[] {
	return parseSheet(text).problems.map(({line, message}) => `${line}: ${message}`);
}

describe('parseSheet', () => {
	it('reads every table, with channels in the order of the frame', () => {
		expect(parseSheet(good)).toEqual({
			problems: [],
			sheet: {
				name: 'fox, left',
				board: {family: 'esp32', fullScale: 4095, supplyVolts: 3.3},
				channels: [
					{name: 'thumb', pin: '32', inverted: true, min: 310, max: 3480, line: 9},
					{name: 'index', pin: 'GPIO33', cordTravelMm: 41.5, line: 16},
				],
				reel: {spoolDiameterMm: 16, jointRadiiMm: [10, 8, 6]},
				link: {kind: 'bluetooth', targetRate: 60},
			},
		});
	});

	it('takes the other spellings TOML has for the same thing', () => {
		const dotted = 'board.family = "esp32"\nchannel = [{name = "thumb", pin = "A0"}]\n"link" = {kind = "usb"}\n';
		expect(parseSheet(dotted).sheet).toMatchObject({
			board: {family: 'esp32'},
			channels: [{name: 'thumb', pin: 'A0'}],
			link: {kind: 'usb'},
		});
		expect(parseSheet(`\uFEFF${good.replaceAll('\n', '\r\n')}`).sheet).toEqual(parseSheet(good).sheet);
		expect(parseSheet('').sheet).toEqual({channels: []});
	});

	it('names the line of a misspelt key and the key that was meant', () => {
		expect(problems(good.replace('pin = 32', 'pinn = 32'))).toEqual([
			'11: unknown key "pinn" in [[channel]]. Did you mean "pin"?',
		]);
		expect(problems(good.replace('spool_diameter_mm', 'spool_diametre_mm'))).toEqual([
			'22: unknown key "spool_diametre_mm" in [reel]. Did you mean "spool_diameter_mm"?',
		]);
		expect(problems(good.replace('[board]', '[baord]'))).toEqual(['4: unknown table "baord". Did you mean "board"?']);
	});

	it('says where a key belongs that stands in the wrong place', () => {
		expect(problems('[link]\npin = 3\nbatery_mah = 3')).toEqual([
			'2: unknown key "pin" in [link]. It belongs under [[channel]].',
			'3: unknown key "batery_mah" in [link].',
		]);
		expect(problems('baud = 9600')).toEqual(['1: unknown key "baud". It belongs under [link].']);
	});

	it.each([
		['[board]\nfamily = "esp-32"', '2: family must not be "esp-32": it takes one of', 'Did you mean "esp32"?'],
		['[board]\nfull_scale = "big"', '2: full_scale must not be "big": it takes a whole number from 1 to 16777216.', ''],
		['[board]\nfull_scale = 10.5', '2: full_scale must not be 10.5', ''],
		['[board]\nsupply_volts = -5', '2: supply_volts must not be -5: it takes a number from 0.5 to 30.', ''],
		['[board]\nsupply_volts = nan', '2: supply_volts must not be NaN', ''],
		['[board]\nsupply_volts = inf', '2: supply_volts must not be Infinity', ''],
		['[link]\nbaud = 1979-05-27', '2: baud must not be a date or time', ''],
		['[[channel]]\nname = "pinky"', '2: name must not be "pinky": it takes thumb index middle ring little', ''],
		['[[channel]]\nname = "buton-1"', '2: name must not be "buton-1"', 'Did you mean "button-1"?'],
		['[[channel]]\nname = "ring"\ninverted = "yes"', '3: inverted must not be "yes": it takes true or false.', ''],
		['[[channel]]\nname = "ring"\npin = "GPIO 32; rm"', '3: pin must not be "GPIO 32; rm"', ''],
		['[[channel]]\nname = "ring"\npin = -1', '3: pin must not be -1', ''],
		['[reel]\njoint_radii_mm = []', '2: joint_radii_mm must not be a list: it takes one to three numbers', ''],
		['[[channel]]\npin = 3', '1: [[channel]] needs "name"', ''],
		['[channel]\nname = "ring"', '1: [[channel]] is written with two brackets', ''],
		['board = "esp32"', '1: [board] must be a table', ''],
		['[[channel]]\nname = "ring"\nmin = 900\nmax = 100', '4: max must be above min (900)', 'inverted = true'],
		[
			'[[channel]]\nname = "ring"\n[[channel]]\nname = "ring"',
			'3: a second channel "ring"; the first one is on line 1.',
			'',
		],
		['[board\nfamily = 1', '2: the key, equals sign, and value must be on the same line', 'docs/sheet.md'],
		['a = 1\na = 2', '2: defining a key multiple times is invalid', ''],
	])('refuses %j', (text, message, hint) => {
		const [first] = problems(text);
		expect(first).toContain(message);
		expect(first).toContain(hint);
	});

	it('gives all problems in the order of their lines', () => {
		const lines = parseSheet('[link]\nbaud = 0\nbuad = 1\n[[channel]]\nname = "x"\n').problems.map(({line}) => line);
		expect(lines).toEqual([2, 3, 5]);
	});

	it('allows any number of ignored columns', () => {
		expect(parseSheet('[[channel]]\nname = "-"\n[[channel]]\nname = "-"\n').problems).toEqual([]);
	});

	it('shows nothing from the file that a terminal would obey', () => {
		for (const text of ['"\\u001b]0;x\\u0007" = 1', '[board]\nfamily = "\\u009b31m\\u202e"', 'name = "a\\nb"']) {
			const [first] = problems(text);
			expect(first).toMatch(/^[\n -~…]+$/);
			expect(first).not.toContain('\n');
		}
	});

	it('takes __proto__ and constructor for unknown keys like any other', () => {
		expect(problems('__proto__ = 1\n[board]\nconstructor = 2\n[toString]\nx = 1')).toEqual([
			'1: unknown key "__proto__".',
			'3: unknown key "constructor" in [board].',
			'4: unknown table "toString".',
		]);
	});

	it('never throws, whatever the text', () => {
		fc.assert(
			fc.property(
				fc.oneof(
					fc.string({unit: 'binary', maxLength: 80}),
					fc
						.array(
							fc.constantFrom('[board]', '[[channel]]', 'name', '=', '"ring"', '\n', '{', '}', '[', ']', '.', '1', ','),
							{
								maxLength: 25,
							},
						)
						.map(parts => parts.join(' ')),
				),
				text => {
					const {sheet, problems} = parseSheet(text);
					expect(sheet === undefined).toBe(problems.length > 0);
				},
			),
			{numRuns: 400},
		);
	});

	// Outside check: smol-toml is another reader of TOML 1.0.
	it('finds the values another TOML reader finds', () => {
		const other = parseOther(good) as {board: {full_scale: number}; channel: {max?: number}[]; reel: object};
		const {sheet} = parseSheet(good);
		expect(sheet?.board?.fullScale).toBe(other.board.full_scale);
		expect(sheet?.channels[0].max).toBe(other.channel[0].max);
		expect(Object.values(sheet?.reel ?? {})).toEqual(Object.values(other.reel));
	});
});

describe('sheetFromJson', () => {
	it('gives back a sheet that went through JSON, without the lines', () => {
		const {sheet} = parseSheet(good);
		const {sheet: back, problems} = sheetFromJson(JSON.parse(JSON.stringify(sheet)));
		expect(problems).toEqual([]);
		expect(back).toEqual({...sheet, channels: sheet!.channels.map(({line: _, ...channel}) => channel)});
	});

	it('refuses what is no sheet', () => {
		expect(sheetFromJson(null).problems[0].message).toContain('JSON object');
		expect(sheetFromJson({channels: [{name: 'thumb', pin: {}}]}).problems[0].message).toContain(
			'pin must not be a table',
		);
		expect(sheetFromJson({board: {fullScale: 'x'}}).problems[0].message).toContain('full_scale');
	});

	it('ends everything that can be wrong in one full stop, at the line it is on', () => {
		const all = [
			'name = "a',
			'[board]\nfamily = "avr\n',
			'[board]\n[board]',
			'x = [1,\n2',
			'[board]\nfamly = "avr"\nfull_scale = 0\n',
			'[[channel]]\nmin = 3\nmax = 2\n',
			'[channel]\nname = "ring"\n',
			'[nothing]\n',
			'board = 3\n',
			'a = [[[[[[[[[[[[[[[[1',
		].flatMap(text => parseSheet(text).problems);
		expect(all.length).toBeGreaterThan(9);
		for (const {line, message} of [...all, ...sheetFromJson([]).problems]) {
			expect(message, `line ${line}`).toMatch(/[^.?!][.?!]$/);
		}
	});

	it('names the first of three channels of one name each time', () => {
		expect(problems('[[channel]]\nname = "ring"\n'.repeat(3))).toEqual([
			'3: a second channel "ring"; the first one is on line 1.',
			'5: a second channel "ring"; the first one is on line 1.',
		]);
	});
});
