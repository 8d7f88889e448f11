import {CannotError} from '../cannot-error.ts';

/** What a source is, as far as its name tells. */
type SourceSpec =
	| {readonly kind: 'stdin'}
	| {readonly kind: 'serial'; readonly path: string}
	| {readonly kind: 'tcp'; readonly host: string; readonly port: number}
	| {readonly kind: 'file'; readonly path: string};

/** Windows port names: `COM5`, and in the form that goes beyond COM9. */
const windowsPort = /^(?:\\\\\.\\)?COM\d{1,3}$/i;

/**
 * Reads a source's name: `-`, a port, `tcp://host:port`, or else a file. Files are not looked at, so a name under
 * `/dev` is a port here even if it turns out to be something else.
 *
 * @throws CannotError for an address that cannot be one.
 */
export function parseSourceSpec(spec: string): SourceSpec {
	if (spec === '-') return {kind: 'stdin'};
	if (/^tcp:/i.test(spec)) return parseAddress(spec);
	if (windowsPort.test(spec)) return {kind: 'serial', path: spec};
	if (spec.startsWith('/dev/') && !/^\/dev\/(?:stdin|fd\/|shm\/)/.test(spec)) return {kind: 'serial', path: spec};
	if (spec.trim() === '') {
		throw new CannotError('No source was named: give a port such as /dev/ttyUSB0, tcp://host:port, - or a file.');
	}

	return {kind: 'file', path: spec};
}

/** True where a source goes on until it is stopped: a port, a network connection, standard input. */
export function isLiveSpec(spec: string): boolean {
	return parseSourceSpec(spec).kind !== 'file';
}

function parseAddress(spec: string): SourceSpec {
	const match = /^tcp:\/\/(?:\[([^\]]+)\]|([^:/\s[\]]+)):(\d{1,5})\/?$/i.exec(spec);
	const port = Number(match?.[3]);
	if (!match || port < 1 || port > 65_535) {
		throw new CannotError(
			`${spec} is no address: it takes tcp://host:port with a port from 1 to 65535, such as tcp://192.168.4.1:3333 or tcp://[fe80::1]:3333.`,
		);
	}

	return {kind: 'tcp', host: match[1] ?? match[2]!, port};
}
