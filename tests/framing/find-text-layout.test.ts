import {describe, expect, test} from 'vitest';
import {handFrames, numbers, record, recordLines} from './record-framer.ts';

const five = ['thumb', 'index', 'middle', 'ring', 'little'];
const hand = handFrames(30);

/** Frames in a form, read back: values and names must come out the same. */
function readBack(lines: readonly string[]) {
	const {recorder} = recordLines(lines);
	return {values: recorder.values, names: recorder.names, layout: recorder.layouts[0], odd: recorder.odd, recorder};
}

describe('separators and brackets', () => {
	test.each([
		['comma', (v: number[]) => v.join(), ','],
		['comma and blank', (v: number[]) => v.join(', '), ','],
		['comma between blanks', (v: number[]) => v.join(' , '), ','],
		['semicolon', (v: number[]) => v.join(';'), ';'],
		['tab', (v: number[]) => v.join('\t'), '\t'],
		['a blank', (v: number[]) => v.join(' '), ' '],
		['several blanks', (v: number[]) => v.join('   '), ' '],
		['bar', (v: number[]) => v.join('|'), '|'],
		['bar between blanks', (v: number[]) => v.join(' | '), '|'],
		['padding to four places', (v: number[]) => v.map(n => String(n).padStart(4)).join(), ','],
		['padding to five places with blanks only', (v: number[]) => v.map(n => String(n).padStart(5)).join(''), ' '],
		['leading zeros', (v: number[]) => v.map(n => String(n).padStart(5, '0')).join(), ','],
		['a separator at the end', (v: number[]) => `${v.join()},`, ','],
		['a separator in front', (v: number[]) => `,${v.join()}`, ','],
		['tabs at the end', (v: number[]) => `${v.join('\t')}\t`, '\t'],
		['square brackets', (v: number[]) => `[${v.join()}]`, ','],
		['round brackets', (v: number[]) => `(${v.join(', ')})`, ','],
		['braces', (v: number[]) => `{${v.join(';')}}`, ';'],
		['angle brackets', (v: number[]) => `<${v.join('|')}>`, '|'],
		['a start mark and an end mark', (v: number[]) => `$${v.join()}*`, ','],
		['a prefix word', (v: number[]) => `DATA: ${v.join()}`, ','],
		['quoted numbers', (v: number[]) => v.map(n => `"${n}"`).join(), ','],
		['columns lined up by tabs', (v: number[]) => v.map(n => `${n}${n < 500 ? '\t\t' : '\t'}`).join(''), '\t'],
	])('reads %s', (_name, form, separator) => {
		const {values, names, layout, odd} = readBack(hand.map(form));
		expect(values).toEqual(hand);
		expect(names).toEqual(five);
		expect(layout.separator).toBe(separator);
		expect(layout).toMatchObject({framing: 'text', labelled: false, checksum: null, unit: null});
		expect(odd).toEqual([]);
	});
});

describe('numbers', () => {
	const signed = handFrames(30).map(values => values.map(value => value - 500));

	test.each([
		['negative numbers', (v: number) => String(v), (v: number) => v],
		['numbers with a plus', (v: number) => (v < 0 ? String(v) : `+${v}`), (v: number) => v],
		['decimals', (v: number) => (v / 100).toFixed(2), (v: number) => v / 100],
		[
			'decimals without a leading zero',
			(v: number) => (v / 1000).toFixed(3).replace('0.', '.'),
			(v: number) => v / 1000,
		],
		['half counts', (v: number) => (v / 2).toFixed(1), (v: number) => v / 2],
		['exponents', (v: number) => v.toExponential(4), (v: number) => v],
		['16-bit values', (v: number) => String((v + 500) * 60), (v: number) => (v + 500) * 60],
		['hexadecimal with 0x', (v: number) => `0x${(v + 500).toString(16).toUpperCase()}`, (v: number) => v + 500],
	])('reads %s', (_name, write, value) => {
		const {values, odd} = readBack(signed.map(frame => frame.map(write).join()));
		expect(values).toEqual(signed.map(frame => frame.map(value)));
		expect(odd).toEqual([]);
	});

	test.each([3, 4])('reads bare hexadecimal of %i digits, digits alone included', digits => {
		const {values, names} = readBack(
			hand.map(frame => frame.map(v => v.toString(16).toUpperCase().padStart(digits, '0')).join(' ')),
		);
		expect(values).toEqual(hand);
		expect(names).toEqual(five);
	});

	test('does not take three decimal digits for hexadecimal', () => {
		const next = numbers(3);
		const frames = Array.from({length: 30}, () => Array.from({length: 5}, () => 100 + next(900)));
		expect(readBack(frames.map(frame => frame.join())).values).toEqual(frames);
	});

	test.each([
		['semicolons', ';'],
		['tabs', '\t'],
		['bars', ' | '],
		['blanks', ' '],
	])('reads decimal commas between %s', (_name, separator) => {
		const {values} = readBack(
			hand.map(frame => frame.map(v => `${(v / 4).toFixed(2).replace('.', ',')}`).join(separator)),
		);
		expect(values).toEqual(hand.map(frame => frame.map(v => Number((v / 4).toFixed(2)))));
	});

	test('reads decimal commas where whole numbers come without one', () => {
		const {values} = readBack(hand.map(frame => frame.map(v => String(v / 2).replace('.', ',')).join(';')));
		expect(values).toEqual(hand.map(frame => frame.map(v => v / 2)));
	});

	test.each([
		['mV', ' mV', 'mV'],
		['mV without a blank', 'mV', 'mV'],
		['V', ' V', 'V'],
		['%', '%', '%'],
		['% after a blank', ' %', '%'],
		['degrees in UTF-8', '°', '°'],
		['deg', ' deg', 'deg'],
		['ohms', ' Ω', 'Ω'],
	])('reads a unit after each number: %s', (_name, suffix, unit) => {
		const {values, layout, recorder} = readBack(hand.map(frame => frame.map(v => `${v}${suffix}`).join(', ')));
		expect(values).toEqual(hand);
		expect(layout.unit).toBe(unit);
		expect(recorder.names).toEqual(five);
	});

	test('takes no unit for the layout that one value of five carries', () => {
		const {values, layout} = readBack(hand.map(frame => frame.map((v, i) => (i === 2 ? `${v} mV` : v)).join(', ')));
		expect(values).toEqual(hand);
		expect(layout.unit).toBeNull();
	});

	test('reads a degree sign in Latin-1, and does not count it as junk', () => {
		const {recorder, framer} = record(
			Buffer.from(`${hand.map(frame => frame.map(v => `${v}°`).join()).join('\n')}\n`, 'latin1'),
		);
		expect(recorder.values).toEqual(hand);
		expect(framer.nonTextBytes).toBe(0);
	});

	test('gives NaN for nan, inf, null, a dash and an empty field', () => {
		const lines = hand.map(frame => frame.join());
		for (const word of ['nan', 'NaN', 'inf', '-inf', 'null', '--', '', 'ovf']) {
			const {recorder} = recordLines([...lines, `512,498,${word},712,433`]);
			expect(recorder.frames[30]?.values, word).toEqual([512, 498, Number.NaN, 712, 433]);
			expect(recorder.odd).toEqual([]);
		}
	});

	test('takes an empty field at the front or the end for a line that was cut', () => {
		const lines = hand.map(frame => frame.join());
		for (const line of [',498,600,712,433', '512,498,600,712,']) {
			const {recorder} = recordLines([...lines, line, lines[0]]);
			expect(recorder.frames, line).toHaveLength(31);
			expect(recorder.kinds(), line).toEqual(['short']);
		}
	});

	test('rounds numbers of more digits than a double holds as JavaScript does', () => {
		const texts = [
			'0.1234567890123456789',
			'12345678901234567890',
			'4.35678901234567891',
			'-98765.4321098765432',
			'0.30000000000000004441',
		];
		const {recorder} = recordLines([...hand.map(frame => frame.map(value => `${value}.5`).join()), texts.join()]);
		expect(recorder.values[30]).toEqual(texts.map(Number));
	});

	test('keeps all digits of a double', () => {
		const {values} = readBack(
			hand.map((_, i) => `0.${i + 100}12345678901,123456789012345${i % 10},3.0000000000000004`),
		);
		expect(values[7]).toEqual([0.10712345678901, 1234567890123457, 3.0000000000000004]);
	});
});

describe('labels', () => {
	const order = ['little', 'middle', 'thumb', 'ring', 'index'];

	test.each([
		['name:value', (n: string, v: number) => `${n}:${v}`, ',', ','],
		['name=value', (n: string, v: number) => `${n}=${v}`, ' ', ' '],
		['name: value', (n: string, v: number) => `${n}: ${v}`, ', ', ','],
		['name = value', (n: string, v: number) => `${n} = ${v}`, '; ', ';'],
		['name value', (n: string, v: number) => `${n} ${v}`, ' ', ' '],
		['name value with padding', (n: string, v: number) => `${n} ${String(v).padStart(4)}`, '  ', ' '],
		['"name":value without braces', (n: string, v: number) => `"${n}":${v}`, ',', ','],
		['name:value with units', (n: string, v: number) => `${n}:${v} mV`, ', ', ','],
		['name value and unit', (n: string, v: number) => `${n} ${v} mV`, ' ', ' '],
		['name by tab', (n: string, v: number) => `${n}:${v}`, '\t', '\t'],
	])('win over position: %s', (_name, form, join, separator) => {
		const {values, names, layout, odd} = readBack(hand.map(frame => frame.map((v, i) => form(order[i], v)).join(join)));
		expect(names).toEqual(order);
		expect(values).toEqual(hand);
		expect(layout).toMatchObject({labelled: true, separator});
		expect(odd).toEqual([]);
	});

	test.each([
		['T512I498', (l: string, v: number) => `${l}${v}`, ''],
		['T512 I498', (l: string, v: number) => `${l}${v}`, ' '],
		['T 512 I 498', (l: string, v: number) => `${l} ${v}`, ' '],
		['T=512,I=498', (l: string, v: number) => `${l}=${v}`, ','],
	])('are read as single letters: %s', (_name, form, join) => {
		const {values, names} = readBack(hand.map(frame => frame.map((v, i) => form('TIMRP'[i], v)).join(join)));
		expect(names).toEqual(five);
		expect(values).toEqual(hand);
	});

	test.each([
		['f0:1 f1:2', (i: number, v: number) => `f${i}:${v}`],
		['f1=1 f2=2', (i: number, v: number) => `f${i + 1}=${v}`],
		['f0 512 f1 498', (i: number, v: number) => `f${i} ${v}`],
		['finger[0]=512', (i: number, v: number) => `finger[${i}]=${v}`],
		['Finger 1: 512', (i: number, v: number) => `Finger ${i + 1}: ${v}`],
		['A0:512, labels that say nothing', (i: number, v: number) => `A${i}:${v}`],
	])('with numbers in them are no readings: %s', (_name, form) => {
		const {values, names, layout} = readBack(hand.map(frame => frame.map((v, i) => form(i, v)).join(' ')));
		expect(names).toEqual(five);
		expect(values).toEqual(hand);
		expect(layout.labelled).toBe(true);
	});

	test('stand for a group of values up to the next label', () => {
		const {names, values} = readBack(
			hand.map((frame, i) => `F:${frame.join()} S:${500 + (i % 3)},${510 - (i % 2)} B:${i % 10 < 5 ? 1 : 0},1`),
		);
		expect(names).toEqual([...five, 'stick-x', 'stick-y', 'button-1', 'button-2']);
		expect(values[0].slice(0, 5)).toEqual(hand[0]);
	});

	test('may change their order from line to line', () => {
		const {recorder} = recordLines(
			hand.map((frame, i) => {
				const fields = frame.map((v, c) => `${five[c]}:${v}`);
				return (i < 12 ? fields : [...fields.slice(2), ...fields.slice(0, 2)]).join();
			}),
		);
		// Eight lines in the new order settle anew; until then each value still goes to its label.
		expect(recorder.frames.slice(0, 30).map(frame => frame.values.length)).toEqual(new Array(30).fill(5));
		expect(recorder.values[13]).toEqual(hand[13]);
		expect(recorder.odd).toEqual([]);
	});

	test('that come twice get a number', () => {
		const {names} = readBack(hand.map(frame => frame.map(v => `thumb:${v}`).join()));
		expect(names).toEqual(['thumb', 'thumb-2', 'thumb-3', 'thumb-4', 'thumb-5']);
	});
});

describe('JSON', () => {
	test('takes names from paths, booleans as 0 and 1, null as NaN', () => {
		const {recorder} = recordLines(
			hand.map((frame, i) =>
				JSON.stringify({
					seq: i,
					fingers: {
						thumb: frame[0],
						index: frame[1],
						middle: frame[2],
						ring: frame[3],
						pinky: i === 20 ? null : frame[4],
					},
					stick: {x: 512, y: 500.5},
					buttons: [i % 8 < 4, false],
				}),
			),
		);
		expect(recorder.names).toEqual(['counter', ...five, 'stick-x', 'stick-y', 'button-1', 'button-2']);
		expect(recorder.layouts[0]).toMatchObject({framing: 'json', separator: null, labelled: true});
		expect(recorder.values[3]).toEqual([3, ...hand[3], 512, 500.5, 1, 0]);
		expect(recorder.values[20][5]).toBeNaN();
		expect(recorder.odd).toEqual([]);
		expect(recorder.layouts).toHaveLength(1);
	});

	test('takes arrays in order', () => {
		const {names, values} = readBack(hand.map(frame => JSON.stringify({fingers: frame, stick: [frame[0], 512]})));
		expect(names).toEqual([...five, 'stick-x', 'stick-y']);
		expect(values[9]).toEqual([...hand[9], hand[9][0], 512]);
	});

	test('takes a bare array as bracketed text', () => {
		const {names, values, layout} = readBack(hand.map(frame => JSON.stringify(frame)));
		expect(names).toEqual(five);
		expect(values).toEqual(hand);
		expect(layout.framing).toBe('text');
	});

	test('does not mind blanks, another order of keys, or texts that change', () => {
		const {recorder} = recordLines(
			hand.map((frame, i) => {
				const [thumb, index, middle, ring, little] = frame;
				if (i % 3 === 1) return JSON.stringify({note: `line "${i}", {x}`, thumb, index, middle, ring, little});
				if (i > 20 && i % 3 === 2) return JSON.stringify({little, ring, middle, index, thumb});
				return `{ "thumb" : ${thumb} , "index":${index},"middle": ${middle}, "ring":${ring}, "little":${little} }`;
			}),
		);
		expect(recorder.values).toEqual(hand);
		expect(recorder.odd).toEqual([]);
	});

	test('tells a line that was cut, and one of another kind', () => {
		const lines = hand.map(([thumb, index]) => JSON.stringify({thumb, index}));
		const {recorder} = recordLines([
			...lines,
			'{"thumb":512,"ind',
			`${lines[0]}${lines[1]}`,
			'{"event":"button held","code":17}',
			lines[2],
		]);
		expect(recorder.kinds()).toEqual(['short', 'merged', 'stray']);
		expect(recorder.frames).toHaveLength(31);
	});
});

describe('a header line', () => {
	const header = 'thumb,index,middle,ring,little';

	test('names the columns, and is told as a stray line', () => {
		const {recorder} = recordLines(['little,ring,middle,index,thumb', ...hand.map(frame => frame.join())]);
		expect(recorder.names).toEqual([...five].reverse());
		expect(recorder.layouts[0].labelled).toBe(true);
		expect(recorder.odd).toEqual([{t: 0, kind: 'stray', text: 'little,ring,middle,index,thumb', offset: 0}]);
	});

	test.each([
		['quoted as in RFC 4180', '"thumb","index","middle","ring","little"'],
		['with a doubled quote (RFC 4180 rule 7)', '"thumb ""A0""","index","middle","ring","little"'],
		['with blanks behind the commas', 'Thumb, Index, Middle, Ring, Pinky'],
		['behind a hash', '# thumb,index,middle,ring,little'],
		['after a banner', `Puppet glove v2.1\r\n\r\n${header}`],
	])('is understood %s', (_name, text) => {
		const {recorder} = recordLines([text, ...hand.map(frame => frame.join())]);
		expect(recorder.names).toEqual(five);
		expect(recorder.layouts[0].labelled).toBe(true);
		expect(recorder.values).toEqual(hand);
	});

	test('is no header of frames that carry labels of their own', () => {
		const {recorder} = recordLines([
			'little,ring,middle (mV)',
			...hand.map(([thumb, index, middle]) => `thumb:${thumb},index:${index},middle:${middle}`),
		]);
		expect(recorder.names).toEqual(['thumb', 'index', 'middle']);
		expect(recorder.layouts[0].unit).toBeNull();
	});

	test('gives the unit that its names carry', () => {
		const {recorder} = recordLines([
			'thumb (mV);index (mV);middle (mV);ring (mV);little (mV)',
			...hand.map(frame => frame.join(';')),
		]);
		expect(recorder.layouts[0].unit).toBe('mV');
		expect(recorder.names).toEqual(five);
	});

	test('that comes again after a restart with another order renames the columns', () => {
		const lines = hand.map(frame => frame.join());
		const {recorder} = recordLines([header, ...lines, 'little,ring,middle,index,thumb', ...lines]);
		expect(recorder.layouts.map(layout => layout.channels[0].name)).toEqual(['thumb', 'little']);
		expect(recorder.frames).toHaveLength(60);
	});

	test('that comes once the frames run labels the columns; what they show of themselves does not', () => {
		const lines = hand.map(frame => frame.join());
		const {recorder} = recordLines([...lines, 'little,ring,middle,index,thumb', ...lines]);
		expect(recorder.layouts.map(({labelled}) => labelled)).toEqual([false, true]);
		// The last column rests at 1, and is pressed at line 20 and on.
		const pressed = hand.map((frame, i) => [...frame.slice(0, 3), 1, i < 20 ? 1 : 0].join());
		const revised = recordLines(pressed).recorder.layouts;
		expect(revised.map(({channels}) => channels[4].role)).toEqual(['finger', 'button']);
		expect(revised.map(({labelled}) => labelled)).toEqual([false, false]);
	});

	test('is not seen in start-up text with as many fields', () => {
		const {recorder} = recordLines([
			'load:0x3fff0030,len:1184,load:0x40078000,len:12784,x',
			...hand.map(frame => frame.join()),
		]);
		expect(recorder.layouts[0].labelled).toBe(false);
		expect(recorder.names).toEqual(five);
	});
});

describe('how soon', () => {
	test('eight lines settle a layout of bare numbers, five one with labels', () => {
		const resting = Array.from({length: 8}, (_, i) => [512 + (i % 2), 498, 600 - (i % 3), 712, 433]);
		const bare = resting.map(frame => `${frame.join()}\n`);
		const labelled = hand.slice(0, 5).map(frame => `${frame.map((v, i) => `${five[i]}:${v}`).join()}\n`);
		for (const lines of [bare, labelled]) {
			const {recorder, framer} = record('');
			lines.forEach((line, i) => {
				expect(recorder.frames, `before line ${i}`).toHaveLength(0);
				framer.push(i, Buffer.from(line));
			});
			expect(recorder.frames).toHaveLength(lines.length);
			expect(recorder.frames.map(frame => frame.t)).toEqual(lines.map((_, i) => i));
		}
	});

	test('sixteen lines are waited for while a column rises so evenly that it may be a clock', () => {
		const {recorder, framer} = record('');
		for (let i = 0; i < 16; i++) {
			expect(recorder.frames).toHaveLength(0);
			framer.push(i / 100, Buffer.from(`${512 + 5 * i},498,600,712,433\n`));
		}

		expect(recorder.frames).toHaveLength(16);
		expect(recorder.names).toEqual(five);
	});

	test('a damaged line in every four does not keep a layout from settling within twenty', () => {
		const lines = hand.map((frame, i) => (i % 4 === 3 ? frame.slice(0, 1 + (i % 3)).join() : frame.join()));
		const {recorder, framer} = record('');
		for (const line of lines.slice(0, 20)) framer.push(0, Buffer.from(`${line}\n`));
		expect(recorder.frames).toHaveLength(15);
		expect(recorder.kinds()).toEqual(new Array(4).fill('short'));
	});

	test('numbers that come one to a line are a layout of one column', () => {
		const {values, names} = readBack(hand.map(frame => String(frame[0])));
		expect(names).toEqual(['thumb']);
		expect(values).toEqual(hand.map(frame => [frame[0]]));
	});

	test('a message that is repeated word for word is none', () => {
		const {recorder} = recordLines(new Array(100).fill('flash read err, 1000'));
		expect(recorder.layouts).toEqual([]);
		expect(recorder.kinds()).toEqual(new Array(100).fill('stray'));
		const other = recordLines(new Array(100).fill('ets_main.c 371')).recorder;
		expect(other.layouts).toEqual([]);
	});

	test('prose with numbers is none', () => {
		const {recorder} = recordLines(
			Array.from(
				{length: 60},
				(_, i) => `Waiting for reel ${i % 5} to settle, ${60 - i} seconds left${i % 2 ? '...' : ''}`,
			),
		);
		expect(recorder.layouts).toEqual([]);
	});
});

describe('UTF-16 and byte-order marks', () => {
	const text = `${hand.map(frame => frame.join()).join('\r\n')}\r\n`;
	const little = Buffer.from(text, 'utf16le');
	const big = Buffer.from(little).swap16();

	test.each([
		['UTF-16, little-endian', little],
		['UTF-16, little-endian, with its mark', Buffer.concat([Buffer.from([0xff, 0xfe]), little])],
		['UTF-16, big-endian', big],
		['UTF-16, big-endian, with its mark', Buffer.concat([Buffer.from([0xfe, 0xff]), big])],
		['UTF-8 with its mark', Buffer.concat([Buffer.from([0xef, 0xbb, 0xbf]), Buffer.from(text)])],
		['a zero byte after each line', Buffer.from(text.replaceAll('\r\n', '\r\n\u0000'))],
		[
			'lines padded with zeros to 32 bytes',
			Buffer.from(text.replace(/([^\n]+\n)/g, line => line.padEnd(32, '\u0000'))),
		],
	])('%s is read like the text itself, and is no junk', (_name, bytes) => {
		const {recorder, framer} = record(bytes);
		expect(recorder.values).toEqual(hand);
		expect(recorder.odd).toEqual([]);
		// At most 1 % must count as junk (definition of wrong-baud); a UTF-16 mark and the zero behind it are all there are.
		expect(framer.nonTextBytes).toBeLessThanOrEqual(3);
	});
});
