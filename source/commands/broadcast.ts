import type {Socket} from 'node:net';

/**
 * What may wait for one reader. A glove at 1,000 frames of 60 bytes a second brings 60 kB/s: more than this is over a
 * quarter of a minute behind, which is no live view any more.
 */
const usualBacklogBytes = 1024 * 1024;

type Reader = {
	readonly name: string;
	droppedBytes: number;
	isBehind: boolean;
};

/**
 * One stream for any number of readers, each at its own pace: none waits for another. What a reader that is too far
 * behind does not take is left out for it, as bytes are lost where a serial port is not read.
 */
export class Broadcast {
	readonly #readers = new Map<Socket, Reader>();
	readonly #tell: (line: string) => void;
	readonly #backlogBytes: number;
	readonly #cuts: boolean;

	/**
	 * @param tell Gets a line when a reader falls behind for the first time, and one when it leaves.
	 * @param options `backlogBytes`: what may wait for one reader. `cuts`: one that is too far behind is dropped instead, where
	 *   what is left out could not be told from what never was.
	 */
	constructor(
		tell: (line: string) => void,
		{backlogBytes = usualBacklogBytes, cuts = false}: {readonly backlogBytes?: number; readonly cuts?: boolean} = {},
	) {
		this.#tell = tell;
		this.#backlogBytes = backlogBytes;
		this.#cuts = cuts;
	}

	/** How many read. */
	get count(): number {
		return this.#readers.size;
	}

	add(socket: Socket): void {
		const reader = {name: `${socket.remoteAddress}:${socket.remotePort}`, droppedBytes: 0, isBehind: false};
		this.#readers.set(socket, reader);
		socket.setNoDelay(true);
		// One that is gone without a word would count as slow for ever.
		socket.setKeepAlive(true, 10_000);
		socket.on('close', () => {
			this.#readers.delete(socket);
			if (reader.droppedBytes > 0)
				this.#tell(`${reader.name} has left; ${reader.droppedBytes} bytes were left out for it.`);
		});
		socket.on('error', () => {});
		// Whatever a reader says is read and forgotten: a full receive buffer would hold up its end.
		socket.resume();
	}

	send(bytes: Uint8Array): void {
		for (const [socket, reader] of this.#readers) {
			const waiting = socket.writableLength;
			// Taken up again with room to spare, or every other piece would be missing.
			if (reader.isBehind && waiting <= this.#backlogBytes / 2) reader.isBehind = false;
			else if (waiting + bytes.byteLength > this.#backlogBytes) reader.isBehind = true;
			if (!reader.isBehind) {
				socket.write(bytes);
				continue;
			}

			if (this.#cuts) {
				this.#readers.delete(socket);
				this.#tell(`${reader.name} reads too slowly and was dropped: ${waiting} bytes waited for it.`);
				socket.destroy();
				continue;
			}

			if (reader.droppedBytes === 0) {
				this.#tell(`${reader.name} reads too slowly: what it does not take in time is left out for it.`);
			}

			reader.droppedBytes += bytes.byteLength;
		}
	}

	/** Ends every connection; those whose reader does not answer are cut after `graceMs`. */
	end(graceMs = 200): void {
		for (const socket of this.#readers.keys()) socket.end();
		setTimeout(() => {
			for (const socket of this.#readers.keys()) socket.destroy();
		}, graceMs).unref();
	}
}
