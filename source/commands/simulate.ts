import {createWriteStream} from 'node:fs';
import {open} from 'node:fs/promises';
import type {Writable} from 'node:stream';
import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {whyNotCreated, whyNotWritten} from '../recording/recording-errors.ts';
import {recordingEnding} from '../recording/recording-format.ts';
import {RecordingWriter} from '../recording/recording-writer.ts';
import {type SimulationSpec, truthOf} from '../simulator/simulate.ts';
import {type SimulationOptions, simulationFromOptions} from '../simulator/simulation-from-options.ts';
import {StampedLines} from '../simulator/stamped-lines.ts';
import {simulatorSource} from '../sources/simulator-source.ts';
import {escapeText} from '../text/escape-text.ts';
import {Broadcast} from './broadcast.ts';
import {drained} from './drained.ts';
import {listenAt, loopback} from './listen.ts';

export type SimulateOptions = SimulationOptions & {
	/** File to write: a recording (`.gbrec`, `.gbrec.gz`) or a plain log (any other name). */
	readonly output?: string;
	readonly force?: boolean;
	/** To stdout: as fast as it is taken instead of in real time. */
	readonly fast?: boolean;
	/** Instead of a glove: a log of a tracker's poses to this file. */
	readonly poses?: string;
	/** With `poses`: what the tracker and the hand are like, such as `order=xyzw, up=z`. */
	readonly tracker?: string;
	/** Seconds before every line, as a logging terminal writes them. */
	readonly stamp?: boolean;
	/** Serves the stream on this loopback port, 0 for any free one. */
	readonly listen?: number;
	/** Address to listen on; only this machine reaches the default, 127.0.0.1. */
	readonly host?: string;
};

/** How long a simulation lasts that has to end and was not told when, seconds. */
const usualSeconds = 30;

/** Recordings of simulations carry one date, so that the same command makes the same file. */
const simulatedStart = new Date('2001-01-01T00:00:00Z');

/** The command that makes this simulation again. */
export function commandFor(options: SimulationOptions): string {
	const quote = (text: string): string => (/^[\w@/.:,*=+-]+$/.test(text) && !text.includes('*') ? text : `'${text}'`);
	const parts = ['glovebench simulate', `--seed ${options.seed ?? 1}`];
	if (options.board !== undefined) parts.push(`--board ${quote(options.board)}`);
	if (options.rate !== undefined) parts.push(`--rate ${options.rate}`);
	if (options.baud !== undefined) parts.push(`--baud ${options.baud}`);
	if (options.layout !== undefined) parts.push(`--layout ${quote(options.layout)}`);
	if (options.format !== undefined) parts.push(`--format ${quote(options.format)}`);
	if (options.firmware !== undefined) parts.push(`--firmware ${quote(options.firmware)}`);
	if (options.script !== undefined) parts.push(`--script ${quote(options.script)}`);
	for (const reel of options.reel ?? []) parts.push(`--reel ${quote(reel)}`);
	for (const fault of options.fault ?? []) parts.push(`--fault ${quote(fault)}`);
	if (options.for !== undefined) parts.push(`--for ${options.for}s`);
	return parts.join(' ');
}

/**
 * `simulate`: a simulated glove to stdout, to a file or to whoever connects. Resolves to 0. Throws `CannotError` for
 * options that make no glove, and for a file or port that cannot be had.
 */
export async function simulateCommand(
	options: SimulateOptions,
	io: Pick<CommandIo, 'stdout' | 'stderr' | 'signal'>,
): Promise<number> {
	if (options.poses !== undefined) await writePoses(options.poses, options, io);
	else await simulateGlove(options, io);
	return 0;
}

async function writePoses(
	path: string,
	{tracker = '', seed = 1, force = false}: SimulateOptions,
	{stderr}: Pick<CommandIo, 'stderr'>,
): Promise<void> {
	const {writeSimulatedPoses} = await import('../mount/write-simulated-poses.ts');
	const lines = await writeSimulatedPoses(path, tracker, seed, force);
	const name = escapeText(path);
	stderr.write(`${name}: ${lines} lines of poses. Next: glovebench mount ${name}\n`);
}

/** Where a glove's stream goes: to whoever connects, into a recording or a log, or to standard output. */
async function simulateGlove(
	options: SimulateOptions,
	io: Pick<CommandIo, 'stdout' | 'stderr' | 'signal'>,
): Promise<void> {
	if (options.tracker !== undefined)
		throw new CannotError('--tracker is for --poses FILE: name the log of poses to write.');
	if (options.output !== undefined && options.listen !== undefined) {
		throw new CannotError('--output and --listen exclude each other: run simulate twice for both.');
	}
	const ends = options.output !== undefined || (options.fast === true && options.listen === undefined);
	const settled = ends ? {...options, for: options.for ?? usualSeconds} : options;
	const spec = simulationFromOptions(settled);
	if (options.stamp && (spec.stream.framing === 'slip' || spec.stream.framing === 'cobs')) {
		throw new CannotError('--stamp stamps lines of text: leave it out with slip and cobs.');
	}
	if (options.host !== undefined && options.listen === undefined)
		throw new CannotError('--host says where to listen: give --listen and a port with it.');
	if (options.listen !== undefined) {
		if (options.stamp) throw new CannotError('--stamp is for files and standard output: leave it out with --listen.');
		await serve(spec, options.listen, options.host ?? loopback, io);
	} else if (options.output !== undefined && recordingEnding.test(options.output)) {
		await writeRecording(spec, settled, options.output, io);
	} else if (options.output !== undefined) {
		await writeLog(spec, settled, options.output, io);
	} else {
		await print(spec, options, io.stdout, io.signal, options.fast !== true);
	}
}

/** Sends the bytes, stamped or not, to a stream, at the pace it takes them. */
async function print(
	spec: SimulationSpec,
	options: SimulateOptions,
	out: Writable,
	signal: AbortSignal,
	paced: boolean,
): Promise<void> {
	const stamps = options.stamp ? new StampedLines() : undefined;
	const source = simulatorSource(spec, {paced, signal});
	for await (const batch of source.batches()) {
		const parts: Uint8Array[] = [];
		for (const item of batch) {
			if (!('bytes' in item)) continue;
			if (stamps) parts.push(stamps.push(item.t, item.bytes));
			else parts.push(item.bytes);
		}
		if (signal.aborted || out.destroyed) return;
		if (parts.length > 0 && !out.write(Buffer.concat(parts))) await drained(out, signal);
	}
}

async function writeRecording(
	spec: SimulationSpec,
	options: SimulateOptions,
	path: string,
	io: Pick<CommandIo, 'stderr' | 'signal'>,
): Promise<void> {
	const source = simulatorSource(spec, {paced: false, signal: io.signal});
	const note = commandFor(options);
	// A wrong setting is no part of the bytes: it has to be declared for whoever reads the recording.
	const {declared, faults, columns} = truthOf(spec);
	const misdeclared = faults.some(({code}) => code === 'wrong-full-scale' || code === 'settings-stale');
	const channels = declared.fingers === undefined ? [] : columns.map(name => ({name, ...declared.fingers?.[name]}));
	const sheet = misdeclared ? {board: {full_scale: declared.fullScale}, channels} : undefined;
	const writer = await RecordingWriter.create(path, {
		source: source.info,
		note,
		sheet,
		startedAt: simulatedStart,
		force: options.force,
	});
	for await (const batch of source.batches()) {
		for (const item of batch) writer.write(item);
		await writer.flush();
		if (writer.error !== undefined || io.signal.aborted) break;
	}
	await writer.close(io.signal.aborted ? undefined : spec.durationSeconds);
	if (writer.error !== undefined) throw new CannotError(writer.error);
	io.stderr.write(`${escapeText(path)}: ${writer.bytes} bytes, ${spec.durationSeconds} s.\n`);
}

async function writeLog(
	spec: SimulationSpec,
	options: SimulateOptions,
	path: string,
	io: Pick<CommandIo, 'stderr' | 'signal'>,
): Promise<void> {
	const file = await open(path, options.force ? 'w' : 'wx').catch((error: NodeJS.ErrnoException) => {
		throw new CannotError(whyNotCreated(path, error));
	});
	const out = createWriteStream(path, {fd: file});
	let failure: NodeJS.ErrnoException | undefined;
	out.on('error', error => {
		failure = error;
	});
	await print(spec, options, out, io.signal, false);
	await new Promise<void>(resolve => {
		out.once('close', () => resolve());
		out.end();
	});
	if (failure) throw new CannotError(`The log ${path} stops here: ${whyNotWritten(failure)}`);
	io.stderr.write(`${escapeText(path)}: ${out.bytesWritten} bytes, ${spec.durationSeconds} s.\n`);
}

/** Plays the glove in real time to every client; one that comes later joins in the middle, as at a real glove. */
async function serve(
	spec: SimulationSpec,
	port: number,
	host: string,
	io: Pick<CommandIo, 'stderr' | 'signal'>,
): Promise<void> {
	const {createServer} = await import('node:net');
	const readers = new Broadcast(line => void io.stderr.write(`${line}\n`));
	const server = createServer(socket => readers.add(socket));
	const at = await listenAt(server, port, host);
	io.stderr.write(`Serving a simulated glove at tcp://${at} until Ctrl-C.\n`);
	const source = simulatorSource(spec, {paced: true, signal: io.signal});
	for await (const batch of source.batches()) {
		for (const item of batch) if ('bytes' in item) readers.send(item.bytes);
	}
	readers.end();
	await new Promise<void>(resolve => {
		server.close(() => resolve());
	});
}
