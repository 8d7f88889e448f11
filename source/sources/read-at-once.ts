import {readSync} from 'node:fs';

/** What is used of the serial library's open port on Linux and macOS. */
type UnixPort = {
	readonly fd: number | null;
	readonly poller: {once(event: 'readable', listener: (error: Error | null) => void): unknown};
	read(buffer: Buffer, offset: number, length: number): Promise<{buffer: Buffer; bytesRead: number}>;
};

/**
 * Makes an open port of the serial library read in place as soon as the system says that something is there. The library itself
 * asks a helper thread twice for every piece, which is a third of what reading costs at 100 pieces a second. The descriptor
 * never blocks (the library opens it so). What goes wrong is left to the library's own way, with its errors. Other
 * systems' ports are left as they are.
 */
export function readAtOnce(port: unknown): void {
	if (!isUnixPort(port)) return;
	const read = port.read.bind(port);
	port.read = (buffer, offset, length) =>
		new Promise((resolve, reject) => {
			port.poller.once('readable', error => {
				if (error) return reject(error);
				const bytesRead = readNow(port.fd, buffer, offset, length);
				resolve(bytesRead > 0 ? {buffer, bytesRead} : read(buffer, offset, length));
			});
		});
}

/** Bytes that were there; 0 where none were, or something is wrong. */
function readNow(fd: number | null, buffer: Buffer, offset: number, length: number): number {
	if (fd === null) return 0;
	try {
		return readSync(fd, buffer, offset, length, null);
	} catch {
		return 0;
	}
}

function isUnixPort(port: unknown): port is UnixPort {
	if (typeof port !== 'object' || port === null) return false;
	return 'fd' in port && 'poller' in port && 'read' in port && typeof port.read === 'function';
}
