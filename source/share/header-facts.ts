import {looksLikeRecording} from '../recording/recording-reader.ts';
import {GunzippedStream, isGzip, PeekedStream, readFileChunks} from '../sources/byte-stream.ts';

/** A header with a sheet takes a few kB; what is longer is not looked through. */
const maxHeaderBytes = 65_536;

const knownKeys = ['glovebench', 'startedAt', 'source', 'link', 'sheet', 'note'];
const knownSourceKeys = ['kind', 'name', 'timing'];

/** What a recording's header says that is not carried by the source that is read from it. */
export type HeaderFacts = {
	/** The name of what was recorded: a port, an address. Undefined for plain logs. */
	readonly sourceName?: string;
	/** Keys this program does not know, such as a serial number another writer put there: `source.serialNumber`. */
	readonly extras: readonly string[];
};

/** Reads the first line of a recording once more. Plain logs and headers that cannot be read give nothing. */
export async function readHeaderFacts(path: string): Promise<HeaderFacts> {
	const start = await readStart(path);
	if (!looksLikeRecording(start)) return {extras: []};
	const [line = ''] = Buffer.from(start).toString('utf8').split('\n', 1);
	try {
		const header = JSON.parse(line.replace(/^\uFEFF/, '')) as Record<string, unknown>;
		const source = typeof header.source === 'object' && header.source !== null ? header.source : {};
		const {name} = source as {name?: unknown};
		return {
			...(typeof name === 'string' && {sourceName: name}),
			extras: [
				...Object.keys(header).filter(key => !knownKeys.includes(key)),
				...Object.keys(source)
					.filter(key => !knownSourceKeys.includes(key))
					.map(key => `source.${key}`),
			],
		};
	} catch {
		return {extras: []};
	}
}

async function readStart(path: string): Promise<Uint8Array> {
	const chunks = readFileChunks(path);
	try {
		let stream = new PeekedStream(chunks);
		if (isGzip(await stream.peek(1024))) stream = new PeekedStream(new GunzippedStream(stream));
		return await stream.peek(maxHeaderBytes);
	} finally {
		await chunks.return(undefined);
	}
}
