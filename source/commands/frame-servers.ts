import type {Writable} from 'node:stream';
import {escapeText} from '../text/escape-text.ts';
import {Broadcast} from './broadcast.ts';
import {isLoopback, listenAt} from './listen.ts';

/** Where live readings go besides a file: each reader at its own pace, and one that is too slow is dropped. */
export type FrameServer = {
	/** Head first, for every reader that comes later, too. */
	head(text: string): void;
	row(text: string): void;
	close(): Promise<void>;
};

/** Readers at once: a person's own programs, never a crowd. */
const mostReaders = 64;

/** What may wait for one reader on a WebSocket: as much as on a plain connection. */
const backlogBytes = 1024 * 1024;

/** Said once where others than this machine are let in. */
function warning(host: string): string {
	return isLoopback(host)
		? ''
		: ' Caution: whoever reaches this machine can read how the hand moves; leave out --host to serve this machine only.';
}

/** A server of lines for any number of readers (`nc`, any language's sockets). Throws `CannotError` where it cannot listen. */
export async function serveLines(port: number, host: string, stderr: Writable): Promise<FrameServer> {
	const {createServer} = await import('node:net');
	let head = '';
	const readers = new Broadcast(line => void stderr.write(`${line}\n`), {cuts: true, backlogBytes});
	const server = createServer(socket => {
		readers.add(socket);
		if (head !== '') socket.write(head);
	});
	server.maxConnections = mostReaders;
	const at = await listenAt(server, port, host);
	stderr.write(`Serving the readings at tcp://${at} until the source ends or Ctrl-C.${warning(host)}\n`);
	return {
		head(text) {
			head = text;
			readers.send(Buffer.from(text));
		},
		row: text => readers.send(Buffer.from(text)),
		close: () => {
			readers.end();
			return new Promise(resolve => void server.close(() => resolve()));
		},
	};
}

/**
 * Whether a page of this origin may read: any page that is open in a browser can ask a port of this machine (RFC 6455,
 * 10.2), so only pages that this machine itself serves are let in. Programs send no origin.
 */
export function mayRead(origin: string | undefined, host: string): boolean {
	if (origin === undefined) return true;
	try {
		const name = new URL(origin).hostname.replace(/^\[(.*)\]$/, '$1');
		return isLoopback(name) || name === host;
	} catch {
		return false;
	}
}

/** "Try again later" (RFC 6455, 7.4, IANA registry of close codes). */
const tooSlow = 1013;

/** A reader that is told to go has so long to answer, in ms. */
const partingMs = 200;

/** The same over WebSockets, a message a frame. */
export async function serveWebSocket(port: number, host: string, stderr: Writable): Promise<FrameServer> {
	const [{createServer}, {WebSocketServer}] = await Promise.all([import('node:http'), import('ws')]);
	const tell = (line: string): void => void stderr.write(`${line}\n`);
	const http = createServer((_request, response) => {
		response.writeHead(426, {'content-type': 'text/plain; charset=utf-8'});
		response.end('Readings come over a WebSocket here: open this address with ws:// in front.\n');
	});
	http.maxConnections = mostReaders;
	const server = new WebSocketServer({
		server: http,
		// Readers have nothing to say.
		maxPayload: 1024,
		perMessageDeflate: false,
		verifyClient: ({origin}: {origin?: string}) => {
			if (mayRead(origin, host)) return true;
			tell(
				`A page of ${escapeText(String(origin), 80)} asked for the readings and was refused: only pages that this machine serves may have them.`,
			);
			return false;
		},
	});
	server.on('error', () => {});
	server.on('connection', socket => socket.on('error', () => {}));
	const at = await listenAt(http, port, host);
	tell(`Serving the readings at ws://${at} until the source ends or Ctrl-C.${warning(host)}`);
	const dropped = new WeakSet<object>();
	return {
		head: () => {},
		row(text) {
			const message = text.trimEnd();
			for (const reader of server.clients) {
				if (reader.readyState !== reader.OPEN || dropped.has(reader)) continue;
				if (reader.bufferedAmount + message.length <= backlogBytes) {
					reader.send(message);
					continue;
				}

				dropped.add(reader);
				tell(`A reader of the WebSocket was too slow and was dropped: ${reader.bufferedAmount} bytes waited for it.`);
				reader.close(tooSlow, 'read too slowly');
				setTimeout(() => reader.terminate(), partingMs).unref();
			}
		},
		async close() {
			for (const reader of server.clients) reader.close(1001, 'the source has ended');
			setTimeout(() => {
				for (const reader of server.clients) reader.terminate();
			}, partingMs).unref();
			await new Promise<void>(resolve => {
				server.close(() => http.close(() => resolve()));
			});
		},
	};
}
