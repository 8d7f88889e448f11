import {access, constants, stat} from 'node:fs/promises';
import type {Readable} from 'node:stream';
import {CannotError} from '../cannot-error.ts';
import type {Source} from '../stream/source.ts';
import {openFile} from './open-file.ts';
import {parseSourceSpec} from './source-spec.ts';

type OpenSourceOptions = {
	/** Symbol rate of a serial line. Default 115,200; `auto` searches on a port. For a log: of the line it was taken from. */
	readonly baud?: number | 'auto';
	/** Lines per second of a log without times. Default 100. */
	readonly rate?: number;
	/** Try not to restart the board when its port is opened. */
	readonly noReset?: boolean;
	/** After the port or the connection is lost, wait for it to come back instead of ending. */
	readonly reattach?: boolean;
	/** Ends the source. */
	readonly signal?: AbortSignal;
	/** Ends a live source after this long. A file is always read to its end. */
	readonly forSeconds?: number;
	/** What `-` reads. Default: standard input. */
	readonly stdin?: Readable;
};

/**
 * Opens what a source's name stands for: a port, `tcp://host:port`, `-`, a recording or a plain log.
 *
 * @throws CannotError, one line, for what cannot be opened.
 */
export async function openSource(spec: string, wanted: OpenSourceOptions = {}): Promise<Source> {
	const parsed = parseSourceSpec(spec);
	// Only a port has a rate to search for; anything else has been received already.
	const {baud, ...others} = wanted;
	const options = {...others, ...(typeof baud === 'number' && {baud})};
	switch (parsed.kind) {
		case 'stdin': {
			const {openStdin} = await import('./stdin.ts');
			return openStdin(options.stdin ?? process.stdin, options);
		}

		case 'tcp': {
			const {openTcp} = await import('./tcp.ts');
			if (!options.reattach) return openTcp(parsed.host, parsed.port, options);
			const {reattachingSource} = await import('./reattaching-source.ts');
			const {forSeconds, ...rest} = options;
			const first = await openTcp(parsed.host, parsed.port, rest);
			return reattachingSource(first, {
				reopen: signal => openTcp(parsed.host, parsed.port, {...rest, signal}),
				...(rest.signal && {signal: rest.signal}),
				...(forSeconds !== undefined && {forSeconds}),
			});
		}

		case 'serial': {
			const {openSerial} = await import('./serial.ts');
			return openSerial(parsed.path, wanted);
		}

		case 'file':
			return openPath(parsed.path, options);
	}
}

/**
 * True for a file that is read to its end, false for what goes on until it is stopped, whatever its name: a link to a port
 * may lie anywhere, as programs that bridge ports make them. False also for what is not there.
 */
export async function isPlainFile(spec: string): Promise<boolean> {
	const parsed = parseSourceSpec(spec);
	if (parsed.kind !== 'file') return false;
	return stat(parsed.path).then(
		found => found.isFile() || found.isDirectory(),
		() => false,
	);
}

async function openPath(path: string, options: OpenSourceOptions & {readonly baud?: number}): Promise<Source> {
	const whyNot = (error: NodeJS.ErrnoException): CannotError => {
		switch (error.code) {
			case 'ENOENT':
				if (/^[\w.-]+:\d{1,5}$/.test(path)) {
					return new CannotError(`${path} is not there: no file has that name. For an address say so: tcp://${path}`);
				}

				return new CannotError(
					`${path} is not there: check the name. For a port give its full name, such as /dev/ttyUSB0 or COM5; \`glovebench ports\` lists them.`,
				);
			case 'EACCES':
			case 'EPERM':
				return new CannotError(
					`${path} cannot be read: no permission. Ask its owner, or copy it to a place of your own.`,
				);
			case 'ENOTDIR':
				return new CannotError(`${path} is not there: part of its path is a file, not a folder. Check the name.`);
			case 'EISDIR':
				return new CannotError(`${path} is a folder: name the recording or log in it.`);
			default:
				return new CannotError(
					`${path} cannot be read: ${error.code ?? error.message}. Try a copy of it on another disk.`,
				);
		}
	};

	try {
		const found = await stat(path);
		if (found.isDirectory()) throw Object.assign(new Error('directory'), {code: 'EISDIR'});
		await access(path, constants.R_OK);
		if (found.isCharacterDevice() && !/^\/dev\/(?:stdin|fd\/)/.test(path)) {
			const {openSerial} = await import('./serial.ts');
			return await openSerial(path, options);
		}

		if (!found.isFile()) {
			const {createReadStream} = await import('node:fs');
			const {openStdin} = await import('./stdin.ts');
			return await openStdin(createReadStream(path), options, path);
		}

		return await openFile(path, found.size, options);
	} catch (error) {
		throw error instanceof CannotError || (error as NodeJS.ErrnoException).code === undefined
			? error
			: whyNot(error as NodeJS.ErrnoException);
	}
}
