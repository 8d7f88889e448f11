import {open} from 'node:fs/promises';
import type {Readable} from 'node:stream';
import {Readable as ReadableStream} from 'node:stream';
import {createGunzip} from 'node:zlib';

const chunkBytes = 256 * 1024;

/**
 * A file's bytes, a new buffer per chunk: whoever reads keeps parts of them.
 *
 * @throws The file system's error, when iterated.
 */
export async function* readFileChunks(path: string): AsyncGenerator<Uint8Array> {
	const file = await open(path, 'r');
	try {
		for (;;) {
			const chunk = Buffer.allocUnsafeSlow(chunkBytes);
			const {bytesRead} = await file.read(chunk, 0, chunkBytes, null);
			if (bytesRead === 0) return;
			yield chunk.subarray(0, bytesRead);
		}
	} finally {
		await file.close();
	}
}

/** A stream of bytes whose beginning can be looked at before it is read. */
export class PeekedStream implements AsyncIterable<Uint8Array> {
	readonly #chunks: AsyncIterator<Uint8Array>;
	#head: Uint8Array[] = [];
	#headBytes = 0;
	#over = false;

	constructor(chunks: AsyncIterable<Uint8Array>) {
		this.#chunks = chunks[Symbol.asyncIterator]();
	}

	/** The first `size` bytes, or all there are; a later read still gives them. */
	async peek(size: number): Promise<Uint8Array> {
		while (this.#headBytes < size && !this.#over) await this.#pull();
		if (this.#head.length > 1) this.#head = [Buffer.concat(this.#head)];
		return this.#head[0] ?? new Uint8Array();
	}

	/** True once everything there is has been looked at. */
	get ended(): boolean {
		return this.#over;
	}

	async #pull(): Promise<void> {
		const {value, done} = await this.#chunks.next();
		if (done) {
			this.#over = true;
		} else if (value.byteLength > 0) {
			this.#head.push(value);
			this.#headBytes += value.byteLength;
		}
	}

	async *[Symbol.asyncIterator](): AsyncGenerator<Uint8Array> {
		try {
			yield* this.#head.splice(0);
			while (!this.#over) {
				await this.#pull();
				yield* this.#head.splice(0);
			}
		} finally {
			await this.#chunks.return?.();
		}
	}
}

/** True for bytes that begin a gzip member with its one known method (RFC 1952 §2.3.1). */
export function isGzip(start: Uint8Array): boolean {
	return start[0] === 0x1f && start[1] === 0x8b && start[2] === 8;
}

/**
 * A capture of so much is some three hours at 100 frames a second, and packs 5 to 50 times. Deflate packs 1032:1 at best
 * (RFC 1951: two bits for 258 bytes), which is what files do that are made to fill memories and disks.
 */
const mostUnpackedBytes = 64 * 1024 * 1024;
const mostPackingRatio = 200;

/** Decompressed bytes, and why they stop early where the compressed ones are damaged or made to swell beyond measure. */
export class GunzippedStream implements AsyncIterable<Uint8Array> {
	/** Set once the bytes have ended. */
	damage: string | undefined;
	readonly #chunks: AsyncIterable<Uint8Array>;

	constructor(chunks: AsyncIterable<Uint8Array>) {
		this.#chunks = chunks;
	}

	async *[Symbol.asyncIterator](): AsyncGenerator<Uint8Array> {
		const gunzip = createGunzip({chunkSize: 64 * 1024});
		let packedBytes = 0;
		let unpackedBytes = 0;
		const counted = async function* (chunks: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
			for await (const chunk of chunks) {
				packedBytes += chunk.byteLength;
				yield chunk;
			}
		};

		const input: Readable = ReadableStream.from(counted(this.#chunks), {objectMode: true, highWaterMark: 1});
		let ready: Uint8Array[] = [];
		let wake: (() => void) | undefined;
		let over = false;
		let failure: Error | undefined;
		const settle = (error?: Error): void => {
			if (over) return;
			failure = error;
			over = true;
			wake?.();
		};

		// Not iterated as a stream: an error would throw away what was decompressed just before it.
		gunzip.on('data', (chunk: Uint8Array) => {
			unpackedBytes += chunk.byteLength;
			if (unpackedBytes > mostUnpackedBytes && unpackedBytes > mostPackingRatio * packedBytes) {
				this.damage =
					`it unpacks to more than ${mostUnpackedBytes / 2 ** 20} MiB, over ${mostPackingRatio} times its size, ` +
					'as no capture does: the rest was left unread';
				input.unpipe(gunzip);
				settle();
				return;
			}

			ready.push(chunk);
			gunzip.pause();
			wake?.();
		});
		gunzip.on('end', () => settle());
		gunzip.on('error', (error: NodeJS.ErrnoException) => {
			this.damage =
				error.code === 'Z_BUF_ERROR'
					? 'the compressed file is cut off'
					: `the compressed data is damaged (${error.message})`;
			settle();
		});
		input.on('error', settle);
		input.pipe(gunzip);
		try {
			for (;;) {
				if (ready.length > 0) {
					const chunks = ready;
					ready = [];
					yield* chunks;
					gunzip.resume();
				} else if (over) {
					if (failure) throw failure;
					return;
				} else {
					await new Promise<void>(resolve => {
						wake = resolve;
					});
				}
			}
		} finally {
			input.destroy();
			gunzip.destroy();
		}
	}
}
