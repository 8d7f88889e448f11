import {Writable} from 'node:stream';
import {describe, expect, it} from 'vitest';
import {FrameStream} from '../../source/dashboard/frame-stream.ts';

/** A terminal that takes what it is sent only when told to. */
class SlowTerminal extends Writable {
	readonly isTTY = true;
	readonly columns = 80;
	readonly rows = 24;
	taken = '';
	#waiting: (() => void)[] = [];

	constructor() {
		super({decodeStrings: false, highWaterMark: 64});
	}

	override _write(chunk: string, _encoding: string, done: () => void) {
		this.#waiting.push(() => {
			this.taken += chunk;
			done();
		});
	}

	/** Takes everything sent so far, and what that sets going. */
	async take() {
		while (this.#waiting.length > 0) {
			this.#waiting.shift()!();
			await new Promise(resolve => setImmediate(resolve));
		}
	}
}

describe('FrameStream', () => {
	it('leaves frames out while the terminal is behind, and then paints the newest', async () => {
		const terminal = new SlowTerminal();
		const stream = new FrameStream(terminal);
		stream.write('frame 1');
		for (const number of [2, 3, 4]) stream.write(`frame ${number}`);
		expect(stream.skipped).toBe(2);
		await terminal.take();
		expect(terminal.taken).toContain('frame 1');
		expect(terminal.taken).toMatch(/4$/);
		expect(terminal.taken).not.toMatch(/[23]$/);
		expect(terminal.writableLength).toBe(0);
	});

	it('holds no more than one frame, however long the terminal stalls', () => {
		const terminal = new SlowTerminal();
		const stream = new FrameStream(terminal);
		for (let number = 0; number < 10_000; number++) stream.write(`${number} ${'x'.repeat(1000)}`);
		expect(terminal.writableLength).toBeLessThan(2000);
	});

	it('paints the last frame again when the screen was someone else’s and nothing new comes', async () => {
		const terminal = new SlowTerminal();
		const stream = new FrameStream(terminal);
		stream.write('ring');
		await terminal.take();
		stream.forget();
		stream.settle();
		await terminal.take();
		expect(terminal.taken).toBe('\u001B[0m\u001B[2J\u001B[1Hring'.repeat(2));
		stream.settle();
		expect(terminal.writableLength).toBe(0);
	});

	it('counts its bytes, and writes none once closed', async () => {
		const terminal = new SlowTerminal();
		const stream = new FrameStream(terminal);
		stream.write('█');
		await terminal.take();
		expect(stream.bytes).toBe(Buffer.byteLength(terminal.taken));
		stream.close();
		stream.write('more');
		stream.refresh();
		stream.ring();
		expect(terminal.writableLength).toBe(0);
	});
});
