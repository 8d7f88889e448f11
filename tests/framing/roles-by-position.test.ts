import {expect, test} from 'vitest';
import {isCounter} from '../../source/framing/name-channels.ts';
import {bytesOf, frameBytes, frameLines, handRows} from './collect.ts';

const fingers = ['thumb', 'index', 'middle', 'ring', 'little'];
const second = fingers.map(name => `${name}-2`);
const stick = ['stick-x', 'stick-y'];

/** Analog columns in a row, and what they are taken for. */
const analog: readonly [count: number, names: readonly string[]][] = [
	[1, fingers.slice(0, 1)],
	[3, fingers.slice(0, 3)],
	[4, fingers.slice(0, 4)],
	[5, fingers],
	[6, [...fingers, 'spare-1']],
	[7, [...fingers, ...stick]],
	[8, [...fingers, ...stick, 'spare-1']],
	[10, [...fingers, ...second]],
	[12, [...fingers, ...second, ...stick]],
];

for (const [count, names] of analog) {
	for (const buttons of [0, 1, 2, 3]) {
		test(`${count} analog columns and ${buttons} buttons`, () => {
			// With fewer than five analog columns a button must have been pressed to be told from a dead finger.
			const lines = handRows(60, count).map((row, i) =>
				[...row, ...Array.from({length: buttons}, (_, k) => Number(i % (7 + k) < 3))].join(','),
			);
			const {layouts} = frameLines(lines);
			expect(layouts).toHaveLength(1);
			const channels = layouts[0].channels;
			expect(channels.map(channel => channel.name)).toEqual([
				...names,
				...Array.from({length: buttons}, (_, k) => `button-${k + 1}`),
			]);
			expect(channels.filter(channel => channel.role === 'button')).toHaveLength(buttons);
		});
	}
}

test('buttons that were never pressed are buttons behind seven analog columns', () => {
	for (const idle of [0, 1]) {
		const {names} = frameLines(handRows(40, 7).map(row => [...row, idle, idle].join(',')));
		expect(names).toEqual([...fingers, ...stick, 'button-1', 'button-2']);
	}
});

test('a finger that reads zero is a dead finger, not a button', () => {
	const {names} = frameLines(handRows(40, 5).map(row => [...row.slice(0, 4), 0].join(',')));
	expect(names).toEqual(fingers);
});

test('a button that turns out to be analog becomes what its place says', () => {
	const lines = handRows(200, 7).map((row, i) => (i < 60 ? [...row.slice(0, 6), 0, 0] : [...row, 0]).join(','));
	const {layouts, frames} = frameLines(lines);
	expect(layouts[0].channels.map(channel => channel.name)).toEqual([...fingers, 'spare-1', 'button-1', 'button-2']);
	expect(layouts.at(-1)?.channels.map(channel => channel.name)).toEqual([...fingers, ...stick, 'button-1']);
	expect(frames).toHaveLength(200);
});

test('counter and clock keep their roles when a button turns out to be analog', () => {
	const lines = handRows(200, 7).map((row, i) =>
		[i + 40, 5000 + 10 * i, ...(i < 60 ? [...row.slice(0, 6), 0] : row), 0].join(','),
	);
	const {layouts} = frameLines(lines);
	expect(layouts).toHaveLength(2);
	expect(layouts[1].channels.map(channel => channel.name)).toEqual([
		'counter',
		'clock',
		...fingers,
		...stick,
		'button-1',
	]);
	expect(layouts[1].channels[1].clockUnitSeconds).toBe(0.001);
});

const moduli = [3, 4, 5, 8, 10, 16, 32, 100, 128, 255, 256, 1000, 10_000, 65_536];

test.each(moduli)('a counter that starts over after %d is the counter, wherever it stands and begins', modulus => {
	for (const begin of [0, 1, modulus - 2]) {
		for (const place of [0, 3, 5]) {
			const lines = handRows(60, 5).map((row, i) => row.toSpliced(place, 0, (begin + i) % modulus).join(','));
			const {layouts} = frameLines(lines);
			expect(layouts).toHaveLength(1);
			expect(layouts[0].channels[place]).toMatchObject({name: 'counter', role: 'counter'});
			expect(layouts[0].channels.filter(channel => channel.role === 'finger')).toHaveLength(5);
		}
	}
});

test('a counter that skips now and then is one, noise and blinking are none', () => {
	expect(isCounter([1, 2, 3, 5, 6, 7, 8, 9, 10, 11, 13, 14])).toBe(true);
	expect(isCounter([511, 512, 511, 512, 513, 512, 511, 512, 513])).toBe(false);
	expect(isCounter([0, 1, 0, 1, 0, 1, 0, 1, 0, 1])).toBe(false);
	expect(isCounter([5, 5, 5, 5, 5, 5, 5, 5, 5])).toBe(false);
	expect(isCounter([0.5, 1.5, 2.5, 3.5, 4.5, 5.5, 6.5, 7.5])).toBe(false);
});

const clocks: readonly [name: string, perSecond: number, unitSeconds: number, digits: number][] = [
	['milliseconds', 1000, 0.001, 0],
	['microseconds', 1e6, 1e-6, 0],
	['seconds', 1, 1, 3],
];

test.each(clocks)('a clock in %s is found beside the fingers', (_name, perSecond, unitSeconds, digits) => {
	for (const start of [0.2, 12, 400]) {
		for (const place of [0, 5]) {
			// The board's clock is 0.5 % fast, its lines come 0 to 2 ms late.
			const lines = handRows(60, 5).map((row, i) =>
				row
					.toSpliced(place, 0, Number(((start + 0.01005 * i + 0.0007 * (i % 3)) * perSecond).toFixed(digits)))
					.join(','),
			);
			const {layouts} = frameLines(lines);
			expect(layouts[0].channels[place]).toEqual({
				index: place,
				name: 'clock',
				role: 'clock',
				clockUnitSeconds: unitSeconds,
			});
		}
	}
});

test('a clock is found though all lines come in one burst', () => {
	const text = handRows(60, 5)
		.map((row, i) => `${90_000 + 10 * i},${row.join(',')}\n`)
		.join('');
	for (const [size, gap] of [
		[1e6, 1],
		[400, 0.0005],
	]) {
		const {layouts} = frameBytes(bytesOf(text), {}, size, gap);
		expect(layouts[0].channels[0]).toMatchObject({role: 'clock', clockUnitSeconds: 0.001});
	}
});

test('a finger that happens to rise while the layout settles is a finger again by its hundredth frame', () => {
	const lines = handRows(200, 5).map((row, i) => [i < 30 ? 300 + i : row[0], ...row.slice(1)].join(','));
	const {names} = frameLines(lines);
	expect(names).toEqual(fingers);
});
