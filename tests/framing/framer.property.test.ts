import fc from 'fast-check';
import {expect, test} from 'vitest';
import {Framer} from '../../source/framing/framer.ts';
import {deepCopy} from '../../source/session/deep-copy.ts';
import {bytesOf, Collected, frameBytes} from './collect.ts';

const boot = 'rst:0xc (SW_CPU_RESET),boot:0x13 (SPI_FAST_FLASH_BOOT)\r\nload:0x3fff0018,len:4\r\nglove ready\r\n';

/** Readings that wander: neither counter nor clock nor two-valued, whatever the seed. */
function wander(seed: number, count: number, columns: number, full: number): number[][] {
	let state = seed >>> 0;
	const next = (): number => {
		// Linear congruential generator of Numerical Recipes: enough to wander by.
		state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
		return state / 2 ** 32;
	};
	return Array.from({length: count}, () => Array.from({length: columns}, () => Math.floor(next() * (full + 1))));
}

/** A small generator of line formats of its own. */
const format = fc.record({
	separator: fc.constantFrom(',', ';', '\t', ' ', ' | ', ', '),
	around: fc.constantFrom(['', ''], ['[', ']'], ['<', '>'], ['DATA ', ''], ['', ';']),
	labels: fc.constantFrom('none', 'colon', 'equals', 'json'),
	end: fc.constantFrom('\n', '\r\n', '\r'),
	unit: fc.constantFrom('', 'mV', '%'),
	decimals: fc.constantFrom(0, 0, 1, 3),
	offset: fc.constantFrom(0, 0, -512),
	pad: fc.boolean(),
	columns: fc.integer({min: 2, max: 12}),
	full: fc.constantFrom(255, 1023, 4095, 65_535),
	seed: fc.integer(),
});

type Format = typeof format extends fc.Arbitrary<infer T> ? T : never;

const keys = ['thumb', 'index', 'middle', 'ring', 'little', 'x', 'y', 'temp', 'battery', 'volts', 'gain', 'mode'];

function write(row: readonly number[], {separator, around, labels, unit, decimals, pad}: Format): string {
	const texts = row.map(value =>
		pad && labels !== 'json' ? value.toFixed(decimals).padStart(6) : value.toFixed(decimals),
	);
	if (labels === 'json') return `{${texts.map((text, i) => `"${keys[i]}":${text}`).join(',')}}`;
	const sign = labels === 'colon' ? ':' : '=';
	const fields = texts.map((text, i) => (labels === 'none' ? text : `${keys[i]}${sign}${text}`) + unit);
	return around[0] + fields.join(separator) + around[1];
}

function numbersOf(form: Format): number[][] {
	return wander(form.seed, 40, form.columns, form.full).map(row =>
		row.map(value => Number((value / (form.decimals === 0 ? 1 : 8) + form.offset).toFixed(form.decimals))),
	);
}

test('whatever the format, the numbers that were written are the numbers that are read', () => {
	fc.assert(
		fc.property(format, form => {
			const rows = numbersOf(form);
			const text = rows.map(row => write(row, form) + form.end).join('');
			const {frames, bad, stray, layouts} = frameBytes(bytesOf(text), {}, 200);
			expect(bad).toEqual([]);
			expect(stray).toEqual([]);
			expect(layouts).toHaveLength(1);
			// -0 is what `-0.4` rounds to in the generator; the reader gives what Number gives for the text.
			expect(frames).toEqual(rows.map(row => row.map(value => Number(value.toFixed(form.decimals)))));
		}),
		{numRuns: 300},
	);
});

const told = ({frames, bad, stray, layouts, order}: Collected) => ({frames, bad, stray, layouts, order});

test('the same bytes whole, byte by byte and cut anywhere tell the same', () => {
	fc.assert(
		fc.property(
			format,
			format,
			fc.array(fc.nat(2000), {maxLength: 12}),
			fc.array(fc.nat(), {maxLength: 8}),
			(one, other, cuts, damage) => {
				const texts = [one, other].map(form => numbersOf(form).map(row => write(row, form) + form.end));
				const bytes = bytesOf(texts[0].join('') + boot + texts[1].join('') + boot + texts[1].join(''));
				for (const place of damage) bytes[place % bytes.length] = place % 256;
				const push = (ends: readonly number[]): Collected => {
					const collected = new Collected();
					const framer = new Framer(collected);
					let at = 0;
					for (const end of [...ends, bytes.length]) {
						// All at one time, so that only the cuts differ.
						framer.push(1, bytes.subarray(at, end));
						at = end;
					}
					framer.end(1);
					return collected;
				};
				const whole = told(push([]));
				const sorted = cuts.map(cut => cut % bytes.length).sort((a, b) => a - b);
				expect(told(push(sorted))).toEqual(whole);
				expect(told(push(Array.from({length: bytes.length - 1}, (_, i) => i + 1)))).toEqual(whole);
			},
		),
		{numRuns: 60},
	);
});

test('a copy made at any moment goes on as the original does', () => {
	fc.assert(
		fc.property(format, fc.double({min: 0, max: 1, noNaN: true}), (form, share) => {
			const bytes = bytesOf(
				numbersOf(form)
					.map(row => write(row, form) + form.end)
					.join(''),
			);
			const cut = Math.floor(share * bytes.length);
			const original = new Framer(new Collected());
			original.push(0, bytes.subarray(0, cut));
			const copy = deepCopy(original);
			for (const framer of [original, copy]) {
				framer.push(1, bytes.subarray(cut));
				framer.end(1);
			}
			expect(copy.sink).not.toBe(original.sink);
			expect(told(copy.sink as Collected)).toEqual(told(original.sink as Collected));
		}),
		{numRuns: 40},
	);
});

test('random bytes never throw, keep memory bounded and give no frames', () => {
	fc.assert(
		fc.property(fc.uint8Array({minLength: 200, maxLength: 3000}), fc.integer({min: 1, max: 500}), (bytes, size) => {
			const collected = new Collected();
			const framer = new Framer(collected, {maxLineBytes: 512});
			for (let round = 0; round < 5; round++) {
				for (let at = 0; at < bytes.length; at += size) {
					framer.push(round, bytes.subarray(at, at + size));
					expect(framer.pendingBytes).toBeLessThanOrEqual(512);
				}
			}
			framer.end(5);
			expect(framer.bytesTotal).toBe(5 * bytes.length);
		}),
		{numRuns: 100},
	);
});

test('junk settles on nothing', () => {
	// Independent bytes, a megabyte of them in pieces: no run of lines or packets is alike by chance.
	for (let seed = 1; seed <= 4; seed++) {
		const junk = Uint8Array.from(wander(seed, 250_000, 1, 255).map(row => row[0]));
		const {frames, layouts} = frameBytes(junk, {}, 256);
		expect(frames).toEqual([]);
		expect(layouts).toEqual([]);
	}
});

test('text in any script, and any lines of ASCII, never throw', () => {
	const line = fc.string({unit: fc.constantFrom(...'0123456789,.;:-+eExnaif{}[]"\\|= \tTIMRP°%µ€字'), maxLength: 60});
	fc.assert(
		fc.property(fc.array(line, {maxLength: 80}), lines => {
			const text = bytesOf(lines.join('\n'));
			const {frames, layouts} = frameBytes(text);
			if (layouts.length === 0) expect(frames).toEqual([]);
			else expect(frames.length).toBeGreaterThan(0);
			frameBytes(bytesOf(`512,498,455\n`.repeat(25) + lines.join('\n')));
			frameBytes(bytesOf(`{"thumb":512,"index":498}\n`.repeat(25) + lines.join('\n')));
		}),
		{numRuns: 200},
	);
});
