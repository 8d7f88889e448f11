import {stat} from 'node:fs/promises';
import type {Readable} from 'node:stream';
import {CannotError} from '../cannot-error.ts';
import {looksLikeRecording} from '../recording/recording-reader.ts';
import {GunzippedStream, isGzip, PeekedStream, readFileChunks} from '../sources/byte-stream.ts';
import {foreignFileKind} from '../sources/foreign-file.ts';
import {findEncoding} from '../sources/log/transcode.ts';
import {openSource} from '../sources/open-source.ts';
import {parseSourceSpec} from '../sources/source-spec.ts';
import type {SourceKind} from '../stream/source.ts';
import {PoseReader, type ReadPoses} from './raw-poses.ts';

/** Where poses come from. */
type PoseSource = {readonly kind: SourceKind; readonly name: string};

export type PoseLog = {readonly source: PoseSource; readonly read: ReadPoses};

type ReadOptions = {
	readonly stdin: Readable;
	readonly signal: AbortSignal;
	/** A connection ends after so many seconds. */
	readonly forSeconds?: number;
	readonly progress?: (share: number) => void;
};

/**
 * Reads a log of poses to its end: a file (compressed or not, UTF-8 or UTF-16), a recording, standard input, or a
 * connection. Throws `CannotError` for what cannot be read, and for what holds no poses.
 */
export async function readPoseLog(name: string, options: ReadOptions): Promise<PoseLog> {
	const spec = parseSourceSpec(name);
	if (spec.kind === 'serial')
		throw new CannotError(`mount reads poses, which come from files, - and tcp://, not from the port ${name}.`);
	const reader = new PoseReader();
	const source =
		spec.kind === 'tcp' ? await readLive(name, options, reader) : await readStored(name, spec.kind, options, reader);
	reader.end();
	const {read} = reader;
	if (read === undefined) {
		throw new CannotError(
			reader.problem === undefined
				? `${name} is empty: no pose was logged in it.`
				: `${name} is no log of poses: ${reader.problem}. A row takes x, y, z and a quaternion, such as t,x,y,z,qw,qx,qy,qz.`,
		);
	}
	return {source, read};
}

async function readStored(
	name: string,
	kind: 'file' | 'stdin',
	options: ReadOptions,
	reader: PoseReader,
): Promise<PoseSource> {
	if (kind === 'stdin' && (options.stdin as {isTTY?: boolean}).isTTY)
		throw new CannotError(
			'Standard input is a terminal: pipe a log into it, as in `cat poses.csv | glovebench mount -`.',
		);
	const total = kind === 'file' ? await sizeOf(name, options.signal) : 0;
	const {stream, start} = await unpacked(kind === 'file' ? readFileChunks(name) : options.stdin);
	if (start.byteLength === 0) throw new CannotError(`${name} is empty: no pose was logged in it.`);
	const foreign = foreignFileKind(start);
	if (foreign !== undefined) throw new CannotError(`${name} is ${foreign}, not a log of poses: give the log as text.`);
	if (looksLikeRecording(start)) {
		if (kind === 'stdin') throw new CannotError('A recording of poses has to be a file: save it, then name it.');
		return readLive(name, options, reader);
	}
	const encoding = findEncoding(start);
	const decoder = new TextDecoder(encoding ?? 'utf-8');
	let done = 0;
	for await (const chunk of stream) {
		if (options.signal.aborted) break;
		const bytes = typeof chunk === 'string' ? Buffer.from(chunk) : chunk;
		reader.push(decoder.decode(bytes, {stream: true}));
		done += bytes.byteLength;
		if (total > 0) options.progress?.(Math.min(1, done / total));
	}
	reader.push(decoder.decode());
	return {kind: kind === 'file' ? 'log' : 'stdin', name};
}

/** Bytes of a file. Throws `CannotError` for what is none, in the words of every command. */
async function sizeOf(name: string, signal: AbortSignal): Promise<number> {
	const found = await stat(name).catch(() => undefined);
	if (found?.isFile()) return found.size;
	await (await openSource(name, {signal})).close();
	if (found?.isDirectory() !== false) throw new CannotError(`${name} is no file: name a log of poses.`);
	return found.size;
}

/** A stream as it was before it was compressed, if it was, and how it begins. */
async function unpacked(chunks: ConstructorParameters<typeof PeekedStream>[0]) {
	const packed = new PeekedStream(chunks);
	const start = await packed.peek(1024);
	if (!isGzip(start)) return {stream: packed, start};
	const stream = new PeekedStream(new GunzippedStream(packed));
	return {stream, start: await stream.peek(1024)};
}

/** What carries the times at which bytes came: a connection or a recording of one. */
async function readLive(name: string, options: ReadOptions, reader: PoseReader): Promise<PoseSource> {
	const {forSeconds} = options;
	const source = await openSource(name, {signal: options.signal, ...(forSeconds !== undefined && {forSeconds})});
	const decoder = new TextDecoder();
	for await (const batch of source.batches()) {
		for (const item of batch) if ('bytes' in item) reader.push(decoder.decode(item.bytes, {stream: true}), item.t);
	}
	await source.close();
	return {kind: source.info.kind, name};
}
