import {describe, expect, test} from 'vitest';
import {Framer} from '../../source/framing/framer.ts';
import {handFrames, Recorder, recordLines, toBytes} from './record-framer.ts';

const five = ['thumb', 'index', 'middle', 'ring', 'little'];
const stick = ['stick-x', 'stick-y'];

/** Frames of a hand with further columns behind the given number of analog ones. */
function withColumns(analog: number, more: (i: number) => readonly number[], count = 40): string[] {
	return handFrames(count, analog).map((frame, i) => [...frame, ...more(i)].join());
}

function namesOf(lines: readonly string[], period = 0.01): string[] {
	return recordLines(lines, period).recorder.names;
}

/** Pressed for five frames out of ten. */
const tapped = (i: number): number => (i % 10 < 5 ? 1 : 0);

describe('unlabelled columns go by position', () => {
	test.each([
		[1, ['thumb']],
		[3, ['thumb', 'index', 'middle']],
		[4, ['thumb', 'index', 'middle', 'ring']],
		[5, five],
		[6, [...five, 'spare-1']],
		[7, [...five, ...stick]],
		[8, [...five, ...stick, 'spare-1']],
		[9, [...five, ...stick, 'spare-1', 'spare-2']],
		[10, [...five, ...five.map(name => `${name}-2`)]],
		[12, [...five, ...five.map(name => `${name}-2`), ...stick]],
		[14, [...five, ...stick, ...five.map(name => `${name}-2`), ...stick.map(name => `${name}-2`)]],
	])('%i analog columns', (count, names) => {
		expect(namesOf(withColumns(count, () => []))).toEqual(names);
	});

	test('two-valued columns behind the stick are buttons, seen pressed or not', () => {
		expect(namesOf(withColumns(7, i => [tapped(i), 1, 0]))).toEqual([
			...five,
			...stick,
			'button-1',
			'button-2',
			'button-3',
		]);
	});

	test('two-valued columns right behind the fingers are buttons', () => {
		expect(namesOf(withColumns(5, i => [tapped(i), tapped(i + 3)]))).toEqual([...five, 'button-1', 'button-2']);
		expect(namesOf(withColumns(5, () => [1, 1]))).toEqual([...five, 'button-1', 'button-2']);
		expect(namesOf(withColumns(6, i => [tapped(i)]))).toEqual([...five, 'spare-1', 'button-1']);
	});

	test('a column that goes between 0 and the top of the scale is a button too', () => {
		expect(namesOf(withColumns(5, i => [1023 * tapped(i)]))).toEqual([...five, 'button-1']);
		expect(namesOf(withColumns(7, i => [4095 * tapped(i)]))).toEqual([...five, ...stick, 'button-1']);
	});

	test('dead columns among the first five are fingers, dead or live', () => {
		for (const dead of [() => 0, () => 1, (i: number) => i % 2]) {
			const lines = handFrames(40, 7).map((frame, i) => [frame[0], dead(i), ...frame.slice(2), 1].join());
			expect(namesOf(lines)).toEqual([...five, ...stick, 'button-1']);
		}
	});

	test('one dead axis beside a live one is the stick all the same', () => {
		expect(namesOf(withColumns(6, () => [0]))).toEqual([...five, ...stick]);
		expect(namesOf(withColumns(6, () => [0, 1]))).toEqual([...five, ...stick, 'button-1']);
		expect(namesOf(withColumns(6, i => [i % 2, 1]))).toEqual([...five, ...stick, 'button-1']);
		expect(namesOf(handFrames(40, 7).map(frame => [...frame.slice(0, 5), 0, frame[6]].join()))).toEqual([
			...five,
			...stick,
		]);
	});

	test('two still columns at zero behind the fingers are buttons that nobody has pressed yet', () => {
		expect(namesOf(withColumns(5, () => [0, 0]))).toEqual([...five, 'button-1', 'button-2']);
		expect(namesOf(withColumns(5, () => [0]))).toEqual([...five, 'button-1']);
	});

	test('columns that start clipped, in whatever fingers’ places, are fingers', () => {
		// Fractions of one, as firmware that scales sends them: the last three stand at their top, the first at its bottom.
		const lines = Array.from({length: 200}, (_, i) =>
			[0, 0.5 + 0.01 * (i % 20), 1, 1, i < 50 ? 1 : i < 100 ? 0 : 0.4].map(value => value.toFixed(4)).join(),
		);
		const {recorder} = recordLines(lines);
		expect(recorder.names).toEqual(five);
		expect(recorder.layouts).toHaveLength(1);
		expect(namesOf(handFrames(40, 3).map(frame => [...frame, 1, 1].join()))).toEqual(five);
	});

	test('three fingers and two released buttons are known for that once the buttons are pressed', () => {
		const lines = handFrames(300, 3).map((frame, i) =>
			[...frame, i > 100 && i < 130 ? 0 : 1, i > 200 && i < 220 ? 0 : 1].join(),
		);
		expect(namesOf(lines)).toEqual(['thumb', 'index', 'middle', 'button-1', 'button-2']);
	});

	test('buttons say that only their place made them some, unless a label names them', () => {
		const guesses = (lines: readonly string[]) =>
			recordLines(lines, 0.01).recorder.layouts[0].channels.map(({isGuess}) => isGuess === true);
		expect(guesses(withColumns(5, () => [1]))).toEqual([false, false, false, false, false, true]);
		expect(guesses(handFrames(40).map(([thumb, index]) => `thumb:${thumb},index:${index},button:1`))).toEqual([
			false,
			false,
			false,
		]);
	});

	test('coarse steps do not make buttons of fingers', () => {
		const lines = Array.from({length: 80}, (_, i) => new Array(5).fill(i < 40 ? 0 : 256).join());
		const {recorder} = recordLines(lines);
		expect(recorder.names).toEqual(five);
		expect(recorder.layouts).toHaveLength(1);
	});
});

describe('two gloves in one frame', () => {
	const handsOf = (lines: readonly string[]) =>
		recordLines(lines)
			.recorder.layouts.at(-1)!
			.channels.map(({name, hand}) => `${hand ?? '-'} ${name}`);

	test('are two hands, by place: ten columns, or each glove with its buttons', () => {
		expect(handsOf(handFrames(40, 10).map(frame => frame.join()))).toEqual([
			...five.map(name => `a ${name}`),
			...five.map(name => `b ${name}-2`),
		]);
		const gloves = handFrames(200, 14).map((frame, i) => {
			const buttons = [i % 40 < 9 ? 1 : 0, i % 60 > 50 ? 1 : 0];
			return [...frame.slice(0, 7), ...buttons, ...frame.slice(7), ...buttons].join();
		});
		expect(handsOf(gloves)).toEqual([
			...[...five, ...stick, 'button-1', 'button-2'].map(name => `a ${name}`),
			...[...five, ...stick].map(name => `b ${name}-2`),
			'b button-3',
			'b button-4',
		]);
	});

	test('are two hands, by their labels, each with its own order', () => {
		const line = (frame: readonly number[]): string =>
			frame.map((value, i) => `${i < 5 ? 'left' : 'right'}.${five[i % 5]}=${value}`).join(' ');
		const expected = [...five.map(name => `left ${name}`), ...five.map(name => `right ${name}-2`)];
		expect(handsOf(handFrames(40, 10).map(line))).toEqual(expected);
		const numbered = (frame: readonly number[]): string =>
			frame.map((value, i) => `${i < 5 ? 'L' : 'R'}${i % 5}:${value}`).join(' ');
		expect(handsOf(handFrames(40, 10).map(numbered))).toEqual(expected);
	});

	test('one labelled hand is no two', () => {
		const line = (frame: readonly number[]): string => frame.map((value, i) => `left.${five[i]}=${value}`).join(' ');
		expect(handsOf(handFrames(40).map(line))).toEqual(five.map(name => `- ${name}`));
	});
});

describe('columns that are not the hand’s', () => {
	const roles = (lines: readonly string[]) =>
		recordLines(lines)
			.recorder.layouts.at(-1)!
			.channels.map(({name, role, by}) => `${name} ${role}${role === 'spare' ? ` ${by}` : ''}`);
	const glove = [
		...five.map(name => `${name} finger`),
		'stick-x stick',
		'stick-y stick',
		'button-1 button',
		'button-2 button',
	];
	const hands = handFrames(400, 7).map((frame, i) => [...frame, i % 90 < 20 ? 1 : 0, i % 70 > 60 ? 1 : 0]);

	test('decimals among whole numbers, wherever they stand', () => {
		const angle = (i: number): string => (180 * Math.sin(i / 40)).toFixed(2);
		expect(roles(hands.map((frame, i) => `${frame.join()},${angle(i)},${angle(i + 9)},${angle(i + 30)}`))).toEqual([
			...glove,
			...[1, 2, 3].map(n => `spare-${n} spare decimals`),
		]);
		expect(roles(hands.map((frame, i) => `${angle(i)},${frame.join()}`))).toEqual(['spare-1 spare decimals', ...glove]);
	});

	test('whole angles behind the buttons of a whole glove', () => {
		const angle = (i: number): number => Math.round(170 * Math.sin(i / 40));
		expect(roles(hands.map((frame, i) => [...frame, angle(i), angle(i + 9), angle(i + 20)].join()))).toEqual([
			...glove,
			...[1, 2, 3].map(n => `spare-${n} spare behind`),
		]);
	});

	test('as many signed columns behind the buttons as there are before them, but for a hand that is signed, too', () => {
		const signed = (i: number, c: number): number => Math.round(170 * Math.sin(i / (20 + 7 * c) + c));
		const behind = (frame: readonly number[], i: number): string =>
			[...frame, ...Array.from({length: 7}, (_, c) => signed(i, c))].join();
		expect(roles(hands.map(behind)).slice(9)).toEqual(Array.from({length: 7}, (_, n) => `spare-${n + 1} spare behind`));
		// A thumb stick whose middle is 0 makes it a hand of the same kind: then the others are a second glove.
		const centred = hands.map((frame, i) => [...frame.slice(0, 5), signed(i, 8), signed(i, 9), ...frame.slice(7)]);
		expect(roles(centred.map(behind)).slice(9)).toEqual([
			...five.map(name => `${name}-2 finger`),
			'stick-x-2 stick',
			'stick-y-2 stick',
		]);
	});

	test('a heading that rises is no clock', () => {
		const yaw = (i: number): string => (100 + i * 0.3 + 12 * (1 - Math.cos(i / 25))).toFixed(1);
		expect(roles(hands.map((frame, i) => `${frame.join()},${yaw(i)}`))).toEqual([...glove, 'spare-1 spare decimals']);
	});

	test('battery and temperature, by their labels', () => {
		const line = (frame: readonly number[], i: number): string =>
			`${five.map((name, f) => `${name}:${frame[f]}`).join(' ')} temp:${20 + Math.floor(i / 100)} battery:${87 - Math.floor(i / 100)}`;
		expect(roles(hands.map(line))).toEqual([
			...five.map(name => `${name} finger`),
			'temp spare label',
			'battery battery',
		]);
	});

	test('two times of one board are two clocks', () => {
		const line = (frame: readonly number[], i: number): string =>
			`${10 * i + 5},${10_000 * i + 5123 + (i % 3)},${frame.join()}`;
		expect(roles(hands.map(line))).toEqual(['clock clock', 'clock-2 clock', ...glove]);
	});

	test('sixty-four analog columns are judged, the others told', () => {
		const {recorder} = recordLines(handFrames(60, 70).map(frame => frame.map((v, c) => `f${c}:${v}`).join(' ')));
		const {channels} = recorder.layouts.at(-1)!;
		expect(channels.filter(({role}) => role === 'finger')).toHaveLength(64);
		expect(channels.filter(({by}) => by === 'beyond')).toHaveLength(6);
	});
});

describe('labels that no list knows', () => {
	const rolesOf = (lines: readonly string[]) =>
		recordLines(lines)
			.recorder.layouts.at(-1)!
			.channels.map(({name, role, by}) => `${name} ${role} ${by}`);
	const rows = handFrames(200, 7);

	test.each(['ch', 'adc', 'S', 'sensor_', 'A', 'pin'])('%s0, %0s1 and so on are columns in order', stem => {
		expect(rolesOf(rows.map(row => row.map((value, c) => `${stem}${c}:${value}`).join(' ')))).toEqual([
			...five.map(name => `${name} finger order`),
			'stick-x stick order',
			'stick-y stick order',
		]);
	});

	test('the first five are fingers in order, beside a stick that is named', () => {
		const names = ['alef', 'bet', 'gimel', 'dalet', 'he', 'joyX', 'joyY'];
		expect(rolesOf(rows.map(row => row.map((value, c) => `${names[c]}:${value}`).join(' ')))).toEqual([
			...five.map(name => `${name} finger order`),
			'stick-x stick label',
			'stick-y stick label',
		]);
	});

	test.each([
		['0 and 1', (on: boolean) => (on ? 1 : 0)],
		['true and false', (on: boolean) => String(on)],
		['HIGH and LOW', (on: boolean) => (on ? 'HIGH' : 'LOW')],
	])('a column of %s is a button under its own label, whatever the label', (_, write) => {
		const line = (row: readonly number[], i: number): string =>
			`${five.map((name, c) => `${name}:${row[c]}`).join(' ')} laugh:${write(i % 50 > 40)} jaw:${write(i % 70 < 20)}`;
		expect(rolesOf(rows.map(line)).slice(5)).toEqual(['laugh button values', 'jaw button values']);
	});

	test('a column that is labelled a button and reads as a sensor does is none', () => {
		const line = (row: readonly number[]): string =>
			`${five.map((name, c) => `${name}:${row[c]}`).join(' ')} btn1:${row[5]} thumbBtn:1`;
		expect(rolesOf(rows.map(line)).slice(5)).toEqual(['btn1 spare unknown', 'button-1 button label']);
	});

	test('a column that starts clipped is no button for ever: a third value ends it', () => {
		const line = (row: readonly number[], i: number): string =>
			`${five.map((name, c) => `${name}:${row[c]}`).join(' ')} twist:${(i < 30 ? 0 : i < 60 ? 1 : 0.25).toFixed(4)}`;
		const {recorder} = recordLines(rows.map(line));
		expect(recorder.layouts.map(({channels}) => channels[5].role)).toEqual(['button', 'spare']);
	});
});

describe('a counter', () => {
	test.each([
		['in front', (i: number, v: number[]) => [i, ...v], 0],
		['at the end', (i: number, v: number[]) => [...v, i], 5],
		['in the middle', (i: number, v: number[]) => [...v.slice(0, 2), i, ...v.slice(2)], 2],
		['of 8 bits that wraps', (i: number, v: number[]) => [(i + 252) % 256, ...v], 0],
		['of 16 bits that wraps', (i: number, v: number[]) => [(i + 65_533) % 65_536, ...v], 0],
		['that wraps at 1000', (i: number, v: number[]) => [(i + 996) % 1000, ...v], 0],
		['that skips a frame now and then', (i: number, v: number[]) => [i + Math.floor(i / 6), ...v], 0],
	])('%s is found, and the fingers move on', (_name, place, column) => {
		const names = namesOf(handFrames(40).map((frame, i) => place(i, frame).join()));
		expect(names[column]).toBe('counter');
		expect(names.filter(name => name !== 'counter')).toEqual(five);
	});

	test('is taken back when the column turns out to be a finger', () => {
		const frames = handFrames(200).map((frame, i) => [i < 20 ? 100 + i : frame[0], ...frame.slice(1)]);
		const {recorder} = recordLines(frames.map(frame => frame.join()));
		expect(recorder.layouts.map(layout => layout.channels[0].role)).toEqual(['counter', 'finger']);
		expect(recorder.names).toEqual(five);
	});

	test('is none in the place of the index finger that its label names, beside the other fingers', () => {
		const line = (frame: readonly number[], i: number): string =>
			five.map((name, c) => `${name}:${name === 'index' ? 100 + i : frame[c]}`).join(' ');
		expect(namesOf(handFrames(30).map(line))).toEqual(five);
	});

	test('is found later where the first lines hid it', () => {
		const lines = handFrames(200).map((frame, i) => [i < 12 ? (i * 7) % 30 : i, ...frame].join());
		const {recorder} = recordLines(lines);
		expect(recorder.names).toEqual(['counter', ...five]);
		expect(recorder.layouts).toHaveLength(2);
	});
});

describe('a clock', () => {
	test.each([
		['milliseconds', (i: number) => 412 + 10 * i, 0.001],
		['milliseconds that jitter by one', (i: number) => 5012 + 10 * i + (i % 3 === 0 ? 1 : 0), 0.001],
		['microseconds', (i: number) => 412_000 + 10_004 * i, 1e-6],
		['seconds with decimals', (i: number) => (3 + 0.01 * i).toFixed(3), 1],
		['a time of day', (i: number) => `09:14:0${Math.floor(i / 100)}.${String(10 * (i % 100)).padStart(3, '0')}`, 1],
		[
			'a date and time',
			(i: number) => `2025-01-31T23:59:0${Math.floor(i / 100)}.${String(10 * (i % 100)).padStart(3, '0')}Z`,
			1,
		],
	])('of %s in front is found with its unit', (_name, clock, unit) => {
		const {recorder} = recordLines(
			handFrames(60).map((frame, i) => [clock(i), ...frame].join()),
			0.01,
		);
		expect(recorder.names).toEqual(['clock', ...five]);
		expect(recorder.layouts).toHaveLength(1);
		expect(recorder.layouts[0].channels[0]).toMatchObject({role: 'clock', clockUnitSeconds: unit});
		expect(recorder.frames).toHaveLength(60);
	});

	test('with an arrow behind it, as listening programs print it, is found too', () => {
		const {recorder} = recordLines(handFrames(60).map((frame, i) => `09:14:07.${112 + 10 * i} -> ${frame.join()}`));
		expect(recorder.names).toEqual(['clock', ...five]);
		expect(recorder.values[1][0]).toBeCloseTo(9 * 3600 + 14 * 60 + 7.122, 9);
	});

	test('stands beside a counter', () => {
		expect(namesOf(handFrames(60).map((frame, i) => [i, 2000 + 10 * i, ...frame].join()))).toEqual([
			'counter',
			'clock',
			...five,
		]);
	});

	test('gets its unit by the size of its steps where all lines came at once, and by its slope later', () => {
		const lines = handFrames(300).map((frame, i) => [20 * i, ...frame].join());
		expect(recordLines(lines, 0).recorder.layouts[0].channels[0]).toMatchObject({
			role: 'clock',
			clockUnitSeconds: 0.001,
		});
		// 3000 frames a second: steps of 333 µs look like milliseconds until a second has passed.
		const recorder = new Recorder();
		const framer = new Framer(recorder);
		handFrames(6000).forEach((frame, i) => {
			const t = i < 20 ? 0 : i / 3000;
			framer.push(t, toBytes(`${[90_000 + 333 * i, ...frame].join()}\n`));
		});
		expect(recorder.layouts.map(layout => layout.channels[0].clockUnitSeconds)).toEqual([0.001, 1e-6]);
	});

	test('is not made of a finger that closes slowly, nor of five that close together', () => {
		for (const moving of [1, 5]) {
			const lines = Array.from({length: 100}, (_, i) =>
				Array.from({length: 5}, (_, c) => (c < moving ? 150 + 6 * Math.min(i, 90) + c : 300 + ((i + c) % 2))).join(),
			);
			const {recorder} = recordLines(lines);
			expect(recorder.layouts.map(layout => layout.channels.map(channel => channel.name))).toEqual([five]);
		}
	});
});

describe('guesses are revised calmly', () => {
	test('a button that turns out analog becomes a spare, once', () => {
		const lines = withColumns(7, i => [i < 50 ? 0 : 300 + ((i * 7) % 40)], 300);
		const {recorder} = recordLines(lines);
		expect(recorder.layouts.map(layout => layout.channels[7].name)).toEqual(['button-1', 'spare-1']);
		expect(recorder.frames).toHaveLength(300);
	});

	test('one odd value in a button column changes nothing', () => {
		const lines = withColumns(7, i => [i === 60 ? 12 : tapped(i)], 200);
		const {recorder} = recordLines(lines);
		expect(recorder.layouts).toHaveLength(1);
	});

	test('a still column beside a live one becomes a button at its first real press', () => {
		const lines = withColumns(6, i => [i < 50 ? 0 : tapped(i)], 200);
		const {recorder} = recordLines(lines);
		expect(recorder.layouts.map(layout => layout.channels[6].name)).toEqual(['stick-y', 'button-1']);
	});

	test('a stick axis that flickers between 0 and 1 at its rail stays one', () => {
		const {recorder} = recordLines(withColumns(6, i => [(i >> 1) % 2], 300));
		expect(recorder.layouts).toHaveLength(1);
		expect(recorder.names).toEqual([...five, ...stick]);
	});

	test('the frame that changes a guess already comes in the new layout', () => {
		const {recorder} = recordLines(withColumns(6, i => [i < 50 ? 0 : tapped(i)], 60));
		const change = recorder.log.findIndex((entry, i) => i > 0 && entry.startsWith('layout'));
		expect(recorder.log.slice(0, change).filter(entry => entry.startsWith('frame'))).toHaveLength(52);
	});
});
