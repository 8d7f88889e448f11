/** A reproducible stream of numbers 0 ≤ x < 1 (mulberry32): the same seed, the same attack. */
export function seeded(seed: number): () => number {
	let state = seed >>> 0;
	return () => {
		state = (state + 0x6d2b79f5) >>> 0;
		let mixed = Math.imul(state ^ (state >>> 15), state | 1);
		mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
		return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
	};
}

export function randomBytes(size: number, seed: number): Uint8Array {
	const random = seeded(seed);
	const bytes = new Uint8Array(size);
	for (let at = 0; at < size; at++) bytes[at] = random() * 256;
	return bytes;
}

/** Numbers that break readers: beyond a double, signed zero, no numbers, other bases, more digits than any. */
export const oddNumbers = [
	'1e999',
	'-1e999',
	'1e-999',
	'-0',
	'0',
	'NaN',
	'nan',
	'-inf',
	'Infinity',
	'0x1F',
	'0x',
	'0xFFFFFFFFFFFFFFFFFFFF',
	'9007199254740993',
	'1'.repeat(41),
	`0.${'0'.repeat(400)}1`,
	'1e+',
	'--5',
	'+-5',
	'1.2.3',
	'12:34:56.789',
	'2026-11-25T03:00:00Z',
	'1_000',
	'١٢٣',
	'½',
	'5e5e5',
	'.',
	'-',
	'',
];

/** Names that every object of the language has already. */
export const inheritedNames = ['__proto__', 'constructor', 'toString', 'hasOwnProperty', 'valueOf', 'prototype'];

const frame = (random: () => number): string => Array.from({length: 7}, () => Math.floor(random() * 4096)).join(',');

/** Lines made one by one until there are `size` bytes of them. */
function lines(
	size: number,
	seed: number,
	make: (random: () => number, index: number) => string,
	end = '\n',
): Uint8Array {
	const random = seeded(seed);
	const parts: string[] = [];
	for (let length = 0, index = 0; length < size; index++) {
		const line = make(random, index) + end;
		parts.push(line);
		length += line.length;
	}

	return Buffer.from(parts.join(''), 'utf8').subarray(0, size);
}

const repeated = (unit: string | number) => (size: number) =>
	typeof unit === 'number' ? new Uint8Array(size).fill(unit) : Buffer.alloc(size, unit);

const pick = <T>(from: readonly T[], random: () => number): T => from[Math.floor(random() * from.length)]!;

/** Long runs of one character and then another one: what a careless pattern tries at every place of the run. */
const longRuns = [
	'a',
	'(',
	' ',
	':',
	': ',
	'\t',
	'-',
	'"',
	'ä',
	'#',
	'1,',
	'[',
	'{"',
	'%',
	"'",
	'=',
	'.',
	'e1',
	',',
	'aA',
	'a1',
	'_',
];

/** Every kind of stream that was found to hurt, or that could. Each gives the first `size` bytes of it. */
export const hostileStreams: Readonly<Record<string, (size: number, seed: number) => Uint8Array>> = {
	'random bytes': randomBytes,
	'random printable characters': (size, seed) => randomBytes(size, seed).map(byte => 0x20 + (byte % 95)),
	'random digits and separators': (size, seed) =>
		randomBytes(size, seed).map(byte => '0123456789,; \t|.:-+\n\r'.charCodeAt(byte % 21)),
	'random JSON characters': (size, seed) =>
		randomBytes(size, seed).map(byte => '{}[]",:0123456789eE.-\\nul\n'.charCodeAt(byte % 26)),
	'one line of letters': repeated('a'),
	'one line of digits': repeated('7'),
	'one line of commas': repeated(','),
	'one line of numbers': repeated('512,'),
	'one line of brackets': repeated('['),
	'one line of labels': repeated('a:1 '),
	'line feeds': repeated('\n'),
	'carriage returns': repeated('\r'),
	'zero bytes': repeated(0),
	'packet ends': repeated(0xc0),
	'escapes of packets': repeated(0xdb),
	'bytes that are no UTF-8': repeated(0xff),
	'line ends of every kind': (size, seed) =>
		lines(
			size,
			seed,
			random => frame(random) + pick(['\r', '\n', '\r\n', '\n\r', '\r\r\n', '\0\n', '\n\0\r\0'], random),
			'',
		),
	'odd numbers': (size, seed) =>
		lines(size, seed, random => Array.from({length: 7}, () => pick(oddNumbers, random)).join(',')),
	'odd numbers among good frames': (size, seed) =>
		lines(size, seed, random => {
			const fields = frame(random).split(',');
			if (random() < 0.1) fields[Math.floor(random() * 7)] = pick(oddNumbers, random);
			return fields.join(',');
		}),
	'numbers of thousands of digits': (size, seed) =>
		lines(size, seed, random => Array.from({length: 7}, () => '9'.repeat(1000 + random() * 100)).join(',')),
	'inherited names as labels': (size, seed) =>
		lines(size, seed, random => inheritedNames.map(name => `${name}:${Math.floor(random() * 1024)}`).join(' ')),
	'inherited names as JSON keys': (size, seed) =>
		lines(
			size,
			seed,
			random => `{${inheritedNames.map(name => `"${name}":${Math.floor(random() * 1024)}`).join(',')}}`,
		),
	'inherited names in a header line': (size, seed) =>
		lines(size, seed, (random, index) =>
			index % 60 === 0 ? inheritedNames.join(',') : frame(random).split(',').slice(0, 6).join(','),
		),
	'JSON nested 10,000 deep': (size, seed) => lines(size, seed, () => `${'{"a":['.repeat(5000)}1${']}'.repeat(5000)}`),
	'JSON nested a little': (size, seed) =>
		lines(size, seed, random => `${'{"a":['.repeat(15)}${Math.floor(random() * 1024)}${']}'.repeat(15)}`),
	'labels that are new in every line': (size, seed) =>
		lines(
			size,
			seed,
			(random, index) => `l${index}x:${Math.floor(random() * 1024)} m${index}x:${Math.floor(random() * 1024)}`,
		),
	'JSON keys that are new in every line': (size, seed) =>
		lines(size, seed, (random, index) => `{"k${index}":${Math.floor(random() * 1024)},"m${index}":2}`),
	'labels that are new every second': (size, seed) =>
		lines(size, seed, (random, index) => {
			const era = Math.floor(index / 100);
			return [0, 1, 2, 3, 4].map(finger => `era${era}f${finger}x: ${Math.floor(random() * 1024)}`).join(', ');
		}),
	'100,000 columns': (size, seed) =>
		lines(size, seed, random => `${'512,'.repeat(99_999)}${Math.floor(random() * 1024)}`),
	'256 columns': (size, seed) =>
		lines(size, seed, random => Array.from({length: 256}, () => Math.floor(random() * 1024)).join(',')),
	'a layout that flips in each line': (size, seed) =>
		lines(size, seed, (random, index) =>
			pick(
				['1,2,3,4,5', '{"a":1,"b":2}', 'thumb:5 index:6', '1;2;3', '1\t2\t3\t4', '00FF 01AA'],
				() => (index % 6) / 6 + random() * 0,
			),
		),
	'a layout that flips every 8 lines': (size, seed) =>
		lines(size, seed, (random, index) =>
			Array.from({length: 2 + (Math.floor(index / 8) % 30)}, () => Math.floor(random() * 1024)).join(
				pick([',', ';', '\t', ' '], () => (Math.floor(index / 8) % 4) / 4),
			),
		),
	'a layout that flips every 70 lines': (size, seed) =>
		lines(size, seed, (random, index) =>
			Array.from({length: 2 + (Math.floor(index / 70) % 200)}, () => Math.floor(random() * 1024)).join(','),
		),
	'SLIP packets that change their length': (size, seed) => {
		const bytes = randomBytes(size, seed).map(byte => (byte === 0xc0 || byte === 0xdb ? 0 : byte));
		for (let at = 0, index = 0; at < size; at += 15 + 2 * (Math.floor(index++ / 30) % 20)) bytes[at] = 0xc0;
		return bytes;
	},
	'COBS packets that change their length': (size, seed) => {
		const bytes = randomBytes(size, seed).map(byte => byte || 1);
		for (let at = 0, index = 0; at < size; ) {
			const length = 14 + 2 * (Math.floor(index++ / 30) % 20);
			bytes[at] = length + 1;
			at += length + 2;
			if (at - 1 < size) bytes[at - 1] = 0;
		}

		return bytes;
	},
	'UTF-16': (size, seed) => Buffer.from(`\uFEFF${lines(size >> 1, seed, frame)}`, 'utf16le').subarray(0, size),
	'UTF-16 with a byte missing': (size, seed) =>
		Buffer.from(lines(size >> 1, seed, frame).toString(), 'utf16le').subarray(1, size),
	'characters cut in half': (size, seed) =>
		lines(size, seed, random => frame(random) + pick(['\u{1F9E4}', 'é', '漢'], random)).map((byte, at) =>
			at % 37 === 0 ? 0x41 : byte,
		),
	...Object.fromEntries(
		longRuns.flatMap(run => [
			[
				`long runs of ${JSON.stringify(run)}`,
				(size: number, seed: number) => lines(size, seed, () => `${run.repeat(Math.ceil(8000 / run.length))}!`),
			],
			[
				`long runs of ${JSON.stringify(run)} between good frames`,
				(size: number, seed: number) =>
					lines(size, seed, (random, index) =>
						index % 40 < 20 ? frame(random) : `1,2,${run.repeat(Math.ceil(7900 / run.length))},3,4,5,6`,
					),
			],
			[
				`runs of 60,000 of ${JSON.stringify(run)} in a table`,
				(size: number, seed: number) =>
					lines(size, seed, (random, index) =>
						index % 40 < 39
							? `${Math.floor(random() * 1024)},${Math.floor(random() * 99)}`
							: `${run.repeat(Math.ceil(60_000 / run.length))},b`,
					),
			],
		]),
	),
};
