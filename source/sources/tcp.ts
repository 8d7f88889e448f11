import {connect, type Socket} from 'node:net';
import {CannotError} from '../cannot-error.ts';
import type {Source} from '../stream/source.ts';
import {ItemQueue} from './item-queue.ts';
import {startClock} from './live-clock.ts';
import {type LiveOptions, liveSource} from './live-source.ts';

const connectWithinMs = 10_000;

/**
 * A TCP connection as a source: bytes at the time they come. Ends when the other side closes; a connection that breaks
 * gives `port-lost` first.
 *
 * @throws CannotError if no connection comes about.
 */
export async function openTcp(
	host: string,
	port: number,
	options: LiveOptions & {baud?: number} = {},
): Promise<Source> {
	const name = `tcp://${host.includes(':') ? `[${host}]` : host}:${port}`;
	const socket = await connected(host, port, name, options.signal);
	const clock = startClock();
	const queue = new ItemQueue();
	socket.setNoDelay(true);
	// A radio link that goes without a word: asked after 10 s of silence, and given up 10 s later (libuv's count, 1 s each).
	socket.setKeepAlive(true, 10_000);
	socket.on('data', (bytes: Buffer) => queue.push({t: clock(), bytes}));
	socket.on('end', () => queue.end());
	socket.on('close', () => queue.end());
	socket.on('error', (error: NodeJS.ErrnoException) => {
		queue.push({
			t: clock(),
			event: 'port-lost',
			detail: `The connection to ${name} broke (${whyBroken(error)}). Is the glove still switched on and in reach?`,
		});
		queue.end();
	});
	return liveSource({kind: 'tcp', name, timing: 'measured', baud: options.baud ?? null}, queue, clock, options, () => {
		socket.destroy();
	});
}

function connected(host: string, port: number, name: string, signal?: AbortSignal): Promise<Socket> {
	return new Promise((resolve, reject) => {
		const socket = connect({host, port});
		const settle = (error?: CannotError): void => {
			clearTimeout(timer);
			signal?.removeEventListener('abort', onAbort);
			socket.removeAllListeners('error').removeAllListeners('connect');
			if (error) {
				socket.on('error', () => {});
				socket.destroy();
				reject(error);
			} else {
				resolve(socket);
			}
		};

		const onAbort = (): void => settle(new CannotError(`Gave up connecting to ${name}: stopped.`));
		const timer = setTimeout(() => {
			settle(
				new CannotError(
					`${name} does not answer: is the glove switched on and in the same network, and the port right?`,
				),
			);
		}, connectWithinMs);
		if (signal?.aborted) return onAbort();
		signal?.addEventListener('abort', onAbort);
		socket.once('connect', () => settle());
		socket.once('error', (error: NodeJS.ErrnoException) => settle(new CannotError(whyNotConnected(host, name, error))));
	});
}

function whyBroken({code, message}: NodeJS.ErrnoException): string {
	const words: Readonly<Record<string, string>> = {
		ECONNRESET: 'the other side cut it',
		ETIMEDOUT: 'the other side does not answer any more',
		EPIPE: 'the other side has closed it',
		EHOSTUNREACH: 'the other side cannot be reached any more',
		ENETUNREACH: 'the network is gone',
		ENETDOWN: 'the network is down',
	};
	return words[code ?? ''] ?? code ?? message;
}

function whyNotConnected(host: string, name: string, error: NodeJS.ErrnoException): string {
	switch (error.code) {
		case 'ECONNREFUSED':
			return `${name} refuses the connection: nothing listens on that port. Check the port number and that the glove's server is running.`;
		case 'ENOTFOUND':
		case 'EAI_AGAIN':
		case 'EAI_FAIL':
		case 'EAI_NODATA':
			return `The name ${host} cannot be resolved: check its spelling and the network, or give the glove's IP address.`;
		case 'EHOSTUNREACH':
		case 'ENETUNREACH':
		case 'EADDRNOTAVAIL':
		case 'EINVAL':
			return `${name} cannot be reached from here: check that this computer is in the glove's network.`;
		case 'ETIMEDOUT':
			return `${name} does not answer: is the glove switched on and in the same network, and the port right?`;
		default:
			return `Cannot connect to ${name}: ${error.code ?? error.message}. Check address and port.`;
	}
}
