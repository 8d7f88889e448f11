import {basename} from 'node:path';
import {CannotError} from '../cannot-error.ts';
import {recordingEnding} from '../recording/recording-format.ts';
import {looksLikeRecording, openRecording} from '../recording/recording-reader.ts';
import type {Source, SourceKind} from '../stream/source.ts';
import {GunzippedStream, isGzip, PeekedStream, readFileChunks} from './byte-stream.ts';
import {foreignFileKind} from './foreign-file.ts';
import {type LogOptions, openLog} from './log/log-source.ts';

/**
 * Opens a recording or a plain log, compressed or not. What it is, the content decides.
 *
 * @throws CannotError for what is no capture, cannot be read or is empty.
 */
export async function openFile(path: string, totalBytes: number, options: LogOptions): Promise<Source> {
	return openBytes(path, readFileChunks(path), options, {totalBytes});
}

/**
 * Finds out what a stream of bytes is, and opens it.
 *
 * @param name For messages, and to know that a recording was expected.
 */
export async function openBytes(
	name: string,
	chunks: AsyncIterable<Uint8Array>,
	options: LogOptions,
	more: {totalBytes?: number; kind?: SourceKind} = {},
): Promise<Source> {
	let stream = new PeekedStream(chunks);
	let start = await stream.peek(1024);
	if (start.byteLength === 0) throw new CannotError(`${name} is empty: nothing was captured in it.`);

	let damage: (() => string | undefined) | undefined;
	if (isGzip(start)) {
		const unzipped = new GunzippedStream(stream);
		damage = () => unzipped.damage;
		stream = new PeekedStream(unzipped);
		start = await stream.peek(1024);
		if (start.byteLength === 0) {
			throw new CannotError(
				unzipped.damage
					? `${name} cannot be decompressed: ${unzipped.damage}. Ask for the file again, or for the uncompressed one.`
					: `${name} is empty: the compressed file holds nothing.`,
			);
		}
	}

	const foreign = foreignFileKind(start);
	if (foreign?.includes('archive')) {
		throw new CannotError(
			`${name} is ${foreign}, not a capture: unpack it first${/ZIP/.test(foreign) ? ` (unzip ${name})` : ''}, then give the recording or log that is in it.`,
		);
	}

	if (foreign) {
		throw new CannotError(
			`${name} is ${foreign}, not a capture: give a recording (.gbrec), or a log of the lines the glove sent.`,
		);
	}

	const expected = recordingEnding.test(basename(name));
	if (looksLikeRecording(start)) return openRecording({name, chunks: stream, ...more, ...(damage ? {damage} : {})});
	if (expected) {
		throw new CannotError(
			`${name} does not begin like a recording: its first line is damaged. If it is a plain log, rename it to end in .txt.`,
		);
	}

	return openLog({name, chunks: stream, ...more, ...(damage ? {damage} : {})}, options);
}
