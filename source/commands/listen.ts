import type {AddressInfo, Server} from 'node:net';
import {CannotError} from '../cannot-error.ts';
import {escapeText} from '../text/escape-text.ts';

/** What is served is nobody else's business unless told. */
export const loopback = '127.0.0.1';

/** Whether only this machine reaches an address. */
export function isLoopback(host: string): boolean {
	return /^(?:127\.\d+\.\d+\.\d+|::1|localhost)$/i.test(host);
}

/** Listens, and resolves to where, as `address:port`. Throws `CannotError` for a port or address that cannot be had. */
export async function listenAt(server: Server, port: number, host: string): Promise<string> {
	const {isIPv6} = await import('node:net');
	await new Promise<void>((resolve, reject) => {
		server.once('error', (error: NodeJS.ErrnoException) => reject(new CannotError(whyNotListening(error, host, port))));
		server.listen(port, host, resolve);
	});
	// One connection that cannot be taken is no reason to end the others.
	server.on('error', () => {});
	const {address, port: taken} = server.address() as AddressInfo;
	return `${isIPv6(address) ? `[${address}]` : address}:${taken}`;
}

function whyNotListening(error: NodeJS.ErrnoException, host: string, port: number): string {
	if (error.code === 'EADDRNOTAVAIL' || error.code === 'ENOTFOUND' || error.code === 'EAI_AGAIN')
		return `Cannot listen on ${escapeText(host)}: that is no address of this machine. Leave out --host to serve this machine only.`;
	const why =
		error.code === 'EADDRINUSE'
			? 'another program uses it'
			: error.code === 'EACCES'
				? 'permission denied'
				: error.message;
	return `Cannot listen on port ${port}: ${why}. Try another, or 0 for any free one.`;
}
