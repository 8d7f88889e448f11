import fc from 'fast-check';
import {describe, expect, it} from 'vitest';
import type {FrameSink} from '../../source/framing/frame-sink.ts';
import {Framer} from '../../source/framing/framer.ts';
import {readHeader} from '../../source/framing/header-line.ts';
import {nameFromLabel} from '../../source/framing/read-label.ts';
import {hostileStreams, inheritedNames, oddNumbers, randomBytes} from './hostile-streams.ts';
import {chunked} from './mutate.ts';
import {growth} from './work.ts';

/** Holds the framer to its promises while it is fed. */
class Watch implements FrameSink {
	framer: Framer | undefined;
	told: string[] = [];
	frames = 0;
	channels = -1;
	keeps = false;

	layout(_t: number, layout: Parameters<FrameSink['layout']>[1]): void {
		this.channels = layout.channels.length;
		expect(this.channels).toBeLessThanOrEqual(256);
		const names = layout.channels.map(({name}) => name);
		expect(new Set(names).size).toBe(names.length);
		for (const name of names) expect(name).toMatch(/^[\p{L}\p{N}.-]{1,32}$/u);
		// Every pair of analog channels is compared: their number is bounded.
		expect(layout.channels.filter(({role}) => role === 'finger' || role === 'stick').length).toBeLessThanOrEqual(34);
		if (this.keeps) this.told.push(JSON.stringify(layout));
	}

	frame(_t: number, values: Float64Array, lineBytes: number): void {
		this.frames++;
		if (values.length !== this.channels || !(lineBytes > 0)) throw new Error('a frame that fits no layout');
		for (const value of values)
			if (value === Number.POSITIVE_INFINITY || value === Number.NEGATIVE_INFINITY) throw new Error('no number');
		if (this.keeps) this.told.push(values.join());
	}

	badLine(_t: number, kind: string, excerpt: Uint8Array): void {
		if (excerpt.length > 120) throw new Error('an excerpt too long');
		if (this.keeps) this.told.push(`${kind} ${Buffer.from(excerpt).toString('hex')}`);
	}

	strayLine(_t: number, excerpt: Uint8Array): void {
		this.badLine(0, 'stray', excerpt);
	}
}

function feed(chunks: readonly Uint8Array[], keeps = false): Watch {
	const watch = new Watch();
	watch.keeps = keeps;
	const framer = new Framer(watch);
	for (const chunk of chunks) {
		framer.push(0, chunk);
		if (framer.pendingBytes > 65_536) throw new Error('more is held than the longest line');
	}

	framer.end(0);
	return watch;
}

const inPieces = (bytes: Uint8Array): Uint8Array[] =>
	Array.from({length: Math.ceil(bytes.length / 997)}, (_, index) => bytes.subarray(997 * index, 997 * index + 997));

describe('framing', () => {
	it('takes every hostile stream: no throw, whole frames only, names without surprises, bounded rests', () => {
		for (const make of Object.values(hostileStreams)) feed(inPieces(make(4000, 11)));
	});

	// One line's work must not grow with the square of its length: the same bytes as a few long lines and as many short ones.
	it('spends on long lines of one character about what it spends on short ones', async () => {
		for (const run of ['(', ' ', 'a', ',', '1,']) {
			const table = (length: number): Uint8Array[] => {
				const good = '1,2\n3,4\n5,7\n6,1\n2,2\n1,3\n9,9\n3,1\n4,4\n5,5\n';
				const line = `${run.repeat(length / run.length)},b\n`;
				return inPieces(Buffer.from(good + line.repeat(60_000 / length)));
			};
			// 30 if quadratic, 1 if linear.
			expect(
				await growth(
					() => feed(table(2000)),
					() => feed(table(60_000)),
				),
				run,
			).toBeLessThan(10);
		}
	});

	it('reads no header out of a field of thousands of brackets', () => {
		expect(readHeader(Buffer.from(`thumb (${'('.repeat(30_000)},index`), ',', 2)).toBeUndefined();
	});

	it('tells the same whatever the bytes and wherever they are cut', () => {
		const token = fc.constantFrom(
			...oddNumbers,
			...inheritedNames,
			'512',
			',',
			';',
			'\t',
			' ',
			':',
			'=',
			'\n',
			'\n',
			'\r\n',
			'{',
			'}',
			'"',
			'[',
			']',
			'\u00c0',
			'\0',
			'thumb',
			'512,3,4,5,6\n',
			'{"a":1}\n',
			'\u{1F9E4}',
		);
		const soup = fc.array(token, {maxLength: 150}).map(tokens => Buffer.from(tokens.join('')));
		const bytes = fc.oneof(soup, fc.uint8Array({maxLength: 400}));
		fc.assert(
			fc.property(bytes, fc.nat(), (input, seed) => {
				const whole = feed([input], true).told;
				expect(feed(chunked(input, seed, 9), true).told).toEqual(whole);
			}),
			{seed: 61, numRuns: 400},
		);
	});

	it('gives no frame for a line of 100,000 columns and goes on with the next good lines', () => {
		const good = Array.from({length: 30}, (_, index) => `${index},2,3,4,5\n`).join('');
		const wide = `${'512,'.repeat(99_999)}512\n`;
		expect(feed([Buffer.from(good + wide + good)]).frames).toBe(60);
		expect(feed([Buffer.from(wide.repeat(3))]).frames).toBe(0);
	});

	it('reads inherited names as labels like any other', () => {
		for (const line of [
			inheritedNames.map(name => `${name}:5`).join(' '),
			JSON.stringify(Object.fromEntries(inheritedNames.map(name => [`${name}`, 5]))),
		]) {
			const watch = feed([Buffer.from(`${line}\n`.repeat(30))]);
			expect(watch.frames).toBe(30);
			expect(Object.prototype).toEqual({});
		}
	});

	it('makes names of labels in which nothing hides and no character is halved', () => {
		for (const label of [
			'a\u3164b',
			'\u115f',
			`a${'\u{1D41A}'.repeat(40)}`,
			'\u202eabc',
			'a\u001b]0;x\u0007',
			'x'.repeat(1e6),
			'\ud83e',
			'٣'.repeat(40),
		]) {
			expect(nameFromLabel(label)).toMatch(/^(?!.*\p{Default_Ignorable_Code_Point})[\p{L}\p{N}.-]{1,24}$/u);
		}
	});

	it('holds no more of random bytes than a line and some candidates', () => {
		const watch = feed(chunked(randomBytes(100_000, 5), 3, 5000));
		expect(watch.frames).toBeLessThan(100);
	});
});
