import {once} from 'node:events';
import {type AddressInfo, createServer, type Socket} from 'node:net';

/** Lines of a glove that can be told apart: `n,512,498` and so on, n rising by one, the rest noise that packs badly. */
export function numberedLine(n: number): string {
	// Knuth's multiplicative hash (The Art of Computer Programming 3, 6.4): 2^32 divided by the golden ratio.
	const finger = (index: number): number => 300 + ((Math.imul(5 * n + index, 2_654_435_761) >>> 8) % 500);
	return `${n},${finger(0)},${finger(1)},${finger(2)},${finger(3)},${finger(4)}\r\n`;
}

/** The numbers of the whole lines in a text, in order; a first line without its beginning does not count. */
export function numbersIn(text: string): number[] {
	return [...text.matchAll(/^(\d+)(?:,\d+){5}\r\n/gm)].map(match => Number(match[1]));
}

export type Sent = {readonly n: number; readonly atMs: number};

/** A glove on the network that sends numbered lines to each who connects, and remembers when. */
export class NumberedGlove {
	readonly #server = createServer(socket => this.#serve(socket));
	readonly #everyMs: number;
	/** What each connection was sent, the newest connection last. */
	readonly connections: Sent[][] = [];
	readonly #connected: (() => void)[] = [];
	readonly #sockets = new Set<Socket>();

	constructor(everyMs: number) {
		this.#everyMs = everyMs;
	}

	async listen(host = '127.0.0.1'): Promise<string> {
		this.#server.listen(0, host);
		await once(this.#server, 'listening');
		const {port} = this.#server.address() as AddressInfo;
		return `tcp://${host.includes(':') ? `[${host}]` : host}:${port}`;
	}

	/** Resolves to what the next one to connect is sent. */
	async nextConnection(): Promise<Sent[]> {
		const index = this.connections.length;
		while (this.connections.length <= index) await new Promise<void>(resolve => this.#connected.push(resolve));
		return this.connections[index];
	}

	/** Cuts every connection without a farewell. */
	reset(): void {
		for (const socket of this.#sockets) socket.resetAndDestroy();
	}

	close(): void {
		for (const socket of this.#sockets) socket.destroy();
		this.#server.close();
	}

	#serve(socket: Socket): void {
		const sent: Sent[] = [];
		this.connections.push(sent);
		this.#sockets.add(socket);
		socket.setNoDelay(true);
		const timer = setInterval(() => {
			const n = sent.length;
			sent.push({n, atMs: performance.now()});
			socket.write(numberedLine(n));
		}, this.#everyMs);
		socket.on('close', () => {
			clearInterval(timer);
			this.#sockets.delete(socket);
		});
		socket.on('error', () => {});
		for (const wake of this.#connected.splice(0)) wake();
	}
}
