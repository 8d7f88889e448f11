import {expect, test} from 'vitest';
import {frameLines, handRows} from './collect.ts';

const fingers = ['thumb', 'index', 'middle', 'ring', 'little'];
const rows = handRows(40);
const two = handRows(40, 10);

/** Spellings of the five fingers, in order. */
const spellings: readonly (readonly string[])[] = [
	['thumb', 'index', 'middle', 'ring', 'little'],
	['Thumb', 'Index', 'Middle', 'Ring', 'Pinky'],
	['THUMB', 'INDEX', 'MIDDLE', 'RING', 'PINKIE'],
	['T', 'I', 'M', 'R', 'P'],
	['t', 'i', 'm', 'r', 'l'],
	['th', 'in', 'mi', 'ri', 'li'].map((short, i) => ['th', 'ix', 'mid', 'rng', 'lit'][i] ?? short),
	['thm', 'idx', 'mdl', 'rng', 'pnk'],
	['thumbRaw', 'indexRaw', 'middleRaw', 'ringRaw', 'pinkyRaw'],
	['thumb_adc', 'index_adc', 'middle_adc', 'ring_adc', 'pinky_adc'],
	['adc_thumb', 'adc_index', 'adc_middle', 'adc_ring', 'adc_pinky'],
	['flex_thumb', 'flex_index', 'flex_middle', 'flex_ring', 'flex_little'],
	['l_thumb', 'l_index', 'l_middle', 'l_ring', 'l_little'],
	['thumb_r', 'index_r', 'middle_r', 'ring_r', 'little_r'],
	['thumbLeft', 'indexLeft', 'middleLeft', 'ringLeft', 'littleLeft'],
	['f1', 'f2', 'f3', 'f4', 'f5'],
	['F0', 'F1', 'F2', 'F3', 'F4'],
	['finger0', 'finger1', 'finger2', 'finger3', 'finger4'],
	['finger_1', 'finger_2', 'finger_3', 'finger_4', 'finger_5'],
	['pot1', 'pot2', 'pot3', 'pot4', 'pot5'],
	['reel1', 'reel2', 'reel3', 'reel4', 'reel5'],
	['A0', 'A1', 'A2', 'A3', 'A6'],
	['ADC0', 'ADC1', 'ADC2', 'ADC3', 'ADC4'],
	['ch1', 'ch2', 'ch3', 'ch4', 'ch5'],
	['CH 1', 'CH 2', 'CH 3', 'CH 4', 'CH 5'],
	['s1', 's2', 's3', 's4', 's5'],
	['sensor1', 'sensor2', 'sensor3', 'sensor4', 'sensor5'],
	['p1', 'p2', 'p3', 'p4', 'p5'],
	['v0', 'v1', 'v2', 'v3', 'v4'],
	['GPIO32', 'GPIO33', 'GPIO34', 'GPIO35', 'GPIO36'],
	['a', 'b', 'c', 'd', 'e'],
];

test.each(spellings.map(labels => [labels.join(' '), labels] as const))('%s are the five fingers', (_title, labels) => {
	const {names, frames, layouts} = frameLines(
		rows.map(row => row.map((value, i) => `${labels[i]}:${value}`).join(',')),
	);
	expect(names).toEqual(fingers);
	expect(frames).toEqual(rows);
	expect(layouts[0].channels.every(channel => channel.role === 'finger')).toBe(true);
});

/** Ways to put a label and its number together. */
const joins: readonly [name: string, write: (label: string, value: number) => string, separator: string][] = [
	['a colon', (label, value) => `${label}:${value}`, ','],
	['a colon and a blank', (label, value) => `${label}: ${value}`, ' '],
	['a colon, fields apart by tabs', (label, value) => `${label}: ${value}`, '\t'],
	['a colon, fields apart by bars', (label, value) => `${label}: ${value}`, ' | '],
	['an equals sign', (label, value) => `${label}=${value}`, ' '],
	['an equals sign between blanks', (label, value) => `${label} = ${value}`, ', '],
	['a blank', (label, value) => `${label} ${value}`, ' '],
	['a blank, fields apart by commas', (label, value) => `${label} ${value}`, ', '],
	['nothing', (label, value) => `${label}${value}`, ' '],
	['nothing, and nothing between the fields', (label, value) => `${label}${value}`, ''],
	['a colon, and nothing between the fields', (label, value) => `${label}:${value}`, ''],
	['an arrow', (label, value) => `${label}->${value}`, ' '],
	['a unit', (label, value) => `${label}:${value}mV`, ' '],
	['a unit behind a blank', (label, value) => `${label}: ${value} mV`, ', '],
	['percent', (label, value) => `${label}=${value}%`, ';'],
	['degrees', (label, value) => `${label}=${value}°`, ' '],
];

test.each(joins)('label and number joined by %s', (_name, write, separator) => {
	for (const labels of [fingers, ['T', 'I', 'M', 'R', 'P']]) {
		const lines = rows.map(row => row.map((value, i) => write(labels[i], value)).join(separator));
		const {names, frames, bad, stray} = frameLines(lines);
		expect(names).toEqual(fingers);
		expect(frames).toEqual(rows);
		expect([bad, stray]).toEqual([[], []]);
	}
});

test('letters from A on, glued to their numbers, are channels by position, an E among them no exponent', () => {
	const lines = rows.map(row => row.map((value, i) => `${'ABCDE'[i]}${value}`).join(''));
	const {names, frames} = frameLines(lines);
	expect(names).toEqual(fingers);
	expect(frames).toEqual(rows);
});

test('negative numbers behind a label', () => {
	const wanted = rows.map(row => row.map(value => value - 512));
	for (const join of [':', '=', ' ', '']) {
		const lines = wanted.map(row => row.map((value, i) => `${'TIMRP'[i]}${join}${value}`).join(' '));
		expect(frameLines(lines).frames).toEqual(wanted);
	}
});

test('labels in another order on every line keep their columns', () => {
	const lines = rows.map((row, line) => {
		const fields = row.map((value, i) => `${fingers[i]}:${value}`);
		return [...fields.slice(line % 5), ...fields.slice(0, line % 5)].join(',');
	});
	const {names, frames, bad} = frameLines(lines);
	const order = names.map(name => fingers.indexOf(name));
	expect([...order].sort()).toEqual([0, 1, 2, 3, 4]);
	expect(frames).toEqual(rows.map(row => order.map(i => row[i])));
	expect(bad).toEqual([]);
});

test('a labelled layout is settled by its fifth line', () => {
	const lines = rows.slice(0, 5).map(row => row.map((value, i) => `${fingers[i]}:${value}`).join(','));
	const {order} = frameLines(lines);
	expect(order).toBe('Lfffff');
});

/** What whole lines of labels stand for, in order. */
const layouts: readonly [labels: string, names: string][] = [
	['T I M R P X Y B1 B2', 'thumb index middle ring little stick-x stick-y button-1 button-2'],
	['thumb index middle ring pinky joyX joyY joyClick', 'thumb index middle ring little stick-x stick-y button-1'],
	['thumb index middle ring pinky joy_x joy_y btn', 'thumb index middle ring little stick-x stick-y button-1'],
	['x y thumb index middle ring little', 'stick-x stick-y thumb index middle ring little'],
	['button_thumb thumb index stick.x stick.y', 'button-1 thumb index stick-x stick-y'],
	['x1 y1 x2 y2', 'stick-x stick-y stick-x-2 stick-y-2'],
	['LX LY RX RY', 'stick-x stick-y stick-x-2 stick-y-2'],
	['joy1 joy2 f1 f2 f3', 'stick-x stick-y thumb index middle'],
	['trigger grab pinch menu thumb', 'button-1 button-2 button-3 button-4 thumb'],
	['thumb index battery temp', 'thumb index battery temp'],
	['l_thumb l_index r_index r_thumb', 'thumb index index-2 thumb-2'],
	['thumb_l thumb_r', 'thumb thumb-2'],
	['right_thumb left_thumb', 'thumb thumb-2'],
	['thumb thumb index index', 'thumb thumb-2 index index-2'],
	['LT LI LM LR LP RT RI RM RR RP', 'thumb index middle ring little thumb-2 index-2 middle-2 ring-2 little-2'],
	['l1 l2 l3 l4 l5 r1 r2 r3 r4 r5', 'thumb index middle ring little thumb-2 index-2 middle-2 ring-2 little-2'],
	['A0 A1 A2 A3 A4 A5 A6', 'thumb index middle ring little stick-x stick-y'],
	['daumen zeigefinger mittelfinger ringfinger', 'thumb index middle ring'],
	['pouce index majeur annulaire auriculaire', 'thumb index middle ring little'],
];

test.each(layouts)('%s', (labels, wanted) => {
	const columns = labels.split(' ');
	const lines = two.map(row => columns.map((label, i) => `${label}=${row[i]}`).join(' '));
	expect(frameLines(lines).names.join(' ')).toBe(wanted);
});

test('ten fingers of two hands have ten names, the first hand the plain ones', () => {
	for (const [left, right] of [
		['l_', 'r_'],
		['left_', 'right_'],
		['R_', 'L_'],
		['Left ', 'Right '],
	]) {
		const labels = [...fingers.map(name => left + name), ...fingers.map(name => right + name)];
		const lines = two.map(row => row.map((value, i) => `${labels[i]}:${value}`).join(','));
		expect(frameLines(lines).names).toEqual([...fingers, ...fingers.map(name => `${name}-2`)]);
	}
});

test('a t that keeps the time is a clock, one that bends is a thumb', () => {
	const timed = rows.map((row, i) => `t:${1000 + 10 * i},i:${row[1]},m:${row[2]}`);
	const {layouts} = frameLines(timed);
	expect(layouts[0].channels[0]).toMatchObject({name: 'clock', role: 'clock', clockUnitSeconds: 0.001});
	expect(frameLines(rows.map(row => `t:${row[0]},i:${row[1]},m:${row[2]}`)).names).toEqual([
		'thumb',
		'index',
		'middle',
	]);
});

/** Labels of clocks, and the seconds that one count of theirs stands for; 100 lines a second. */
const clocks: readonly [label: string, perLine: number, unitSeconds: number][] = [
	['ms', 10, 0.001],
	['millis', 10, 0.001],
	['time_ms', 10, 0.001],
	['us', 10_000, 1e-6],
	['time_us', 10_000, 1e-6],
	['timestamp', 10_000, 1e-6],
	['time', 10, 0.001],
	['time', 0.01, 1],
	['sec', 0.01, 1],
	['uptime_s', 0.01, 1],
];

test.each(clocks)('%s rising by %d a line is a clock', (label, perLine, unitSeconds) => {
	const lines = rows.map(
		(row, i) => `${label}:${Number((500 + i * perLine).toFixed(2))} thumb:${row[0]} index:${row[1]}`,
	);
	expect(frameLines(lines).layouts[0].channels[0]).toEqual({
		index: 0,
		name: 'clock',
		role: 'clock',
		clockUnitSeconds: unitSeconds,
	});
});

test('a time that does not rise is none, and an id that does not count is no counter', () => {
	const lines = rows.map((row, i) => `id:7 time:${9 + (i % 2)} thumb:${row[0]} index:${row[1]}`);
	const {layouts} = frameLines(lines);
	expect(layouts[0].channels.map(channel => channel.role)).toEqual(['spare', 'spare', 'finger', 'finger']);
});

test('a line cut short whose rest still reads as labels is no frame', () => {
	const lines = rows.map(row => row.map((value, i) => `${fingers[i]}:${value}`).join(','));
	lines[20] = 'thumb:512,index:498,middle:5';
	lines[25] = 'ndex:498,middle:510,ring:500,little:499';
	lines[30] = `${lines[30]},${lines[31]}`;
	const {frames, bad} = frameLines(lines);
	expect(frames).toHaveLength(37);
	expect(bad.map(line => line.kind)).toEqual(['short', 'short', 'merged']);
});

test('a word beside the labels that changes does not matter before the layout, and its loss is noticed after', () => {
	const lines = rows.map(row => `L ${row.map((value, i) => `${fingers[i]}:${value}`).join(' ')} idle`);
	expect(frameLines(lines).frames).toEqual(rows);
});
