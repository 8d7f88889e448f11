import {type AddressInfo, createServer, type Server, type Socket} from 'node:net';
import {playGlove} from '../dashboard/play-glove.ts';

/** Gloves on the network, each for as long as somebody listens. */
export class NetworkGloves {
	readonly #servers: Server[] = [];
	readonly #sockets = new Set<Socket>();

	/** A glove that sends these frames over and over, 10 ms a line; resolves to its address. */
	serve(items = playGlove({seconds: 60})): Promise<string> {
		const lines = items.map(item => ('bytes' in item ? item.bytes : new Uint8Array()));
		return this.serveLines(() => {
			let sent = 0;
			return () => lines[sent++ % lines.length];
		});
	}

	/**
	 * A glove that begins anew for each listener, and is asked every 10 ms what it sends, `undefined` for nothing; resolves to its
	 * address.
	 */
	async serveLines(begin: () => () => string | Uint8Array | undefined): Promise<string> {
		const server = createServer(socket => {
			const next = begin();
			const timer = setInterval(() => {
				const data = next();
				if (data !== undefined) socket.write(data);
			}, 10);
			this.#sockets.add(socket);
			socket.on('close', () => clearInterval(timer)).on('error', () => {});
		});
		this.#servers.push(server);
		await new Promise<void>(resolve => server.listen(0, '127.0.0.1', resolve));
		return `tcp://127.0.0.1:${(server.address() as AddressInfo).port}`;
	}

	/** Breaks every connection; the gloves listen on. */
	breakOff(): void {
		for (const socket of this.#sockets) socket.destroy();
	}

	close(): void {
		this.breakOff();
		for (const server of this.#servers) server.close();
	}
}
