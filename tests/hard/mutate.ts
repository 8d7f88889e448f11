import {oddNumbers, seeded} from './hostile-streams.ts';

/** What is put into a file where it hurts: quotes, ends, zeros, halves of characters, other files' beginnings. */
const splices = [
	'"',
	'\\',
	'\\u',
	'\n',
	'\r',
	'\0',
	'{',
	'}',
	'[',
	']',
	',',
	':',
	'\u001b[2J',
	'\u00ff',
	'\ud800',
	'\uFEFF',
	'-',
	'__proto__',
	'{"glovebench":1}\n',
	...oddNumbers,
].map(text => Buffer.from(text, 'utf8'));

/** Recordings to damage: one of each kind of framing, and some with events. */
export const recordingKinds = [
	'healthy',
	'healthy-json',
	'healthy-slip',
	'healthy-cobs',
	'healthy-labels',
	'device-restart',
	'port-lost',
	'wrong-baud',
];

/** A damaged copy of a file: `count` times bytes flipped, dropped, doubled, moved, overwritten, cut off or spliced in. */
export function mutate(original: Uint8Array, seed: number, count: number): Buffer {
	const random = seeded(seed);
	const below = (limit: number): number => Math.floor(random() * limit);
	let bytes: Buffer = Buffer.from(original);
	for (let change = 0; change < count && bytes.length > 0; change++) {
		const at = below(bytes.length);
		const length = 1 + below(Math.min(64, bytes.length - at));
		switch (below(8)) {
			case 0:
				bytes[at] ^= 1 << below(8);
				break;
			case 1:
				bytes[at] = below(256);
				break;
			case 2:
				bytes = Buffer.concat([bytes.subarray(0, at), bytes.subarray(at + length)]);
				break;
			case 3:
				bytes = Buffer.concat([bytes.subarray(0, at + length), bytes.subarray(at)]);
				break;
			case 4:
				bytes = Buffer.concat([bytes.subarray(0, at), splices[below(splices.length)]!, bytes.subarray(at)]);
				break;
			case 5:
				bytes.copy(bytes, below(bytes.length), at, at + length);
				break;
			case 6:
				if (random() < 0.1) bytes = bytes.subarray(0, at);
				break;
			default:
				bytes.fill(below(256), at, at + length);
		}
	}

	return Buffer.from(bytes);
}

/** Bytes in chunks of random length, as files and links deliver them. Every chunk is a copy: readers may write on it. */
export function chunked(bytes: Uint8Array, seed: number, longest: number): Buffer[] {
	const random = seeded(seed);
	const chunks: Buffer[] = [];
	for (let at = 0; at < bytes.length; ) {
		const length = 1 + Math.floor(random() * longest);
		chunks.push(Buffer.from(bytes.subarray(at, at + length)));
		at += length;
	}

	return chunks;
}

export async function* stream(chunks: Iterable<Uint8Array>): AsyncGenerator<Uint8Array> {
	yield* chunks;
}
