import {Writable} from 'node:stream';
import {describe, expect, it, vi} from 'vitest';
import {panel} from '../../source/screen/part.ts';
import {ScreenOutput} from '../../source/screen/screen-output.ts';
import {plainLook} from '../dashboard/sample-picture.ts';

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

/** One row of text. */
const page = (text: string) => [{panel: panel([[{text}]], 2000), x: 0, y: 0}];

describe('ScreenOutput', () => {
	it('leaves frames out while the terminal is behind, and then paints the newest', async () => {
		const terminal = new SlowTerminal();
		const output = new ScreenOutput(terminal, plainLook);
		output.show(page('frame 1'));
		for (const number of [2, 3, 4]) output.show(page(`frame ${number}`));
		expect(output.skipped).toBe(2);
		await terminal.take();
		expect(terminal.taken).toContain('frame 1');
		expect(terminal.taken).toMatch(/4$/);
		expect(terminal.taken).not.toMatch(/[23]$/);
		expect(terminal.writableLength).toBe(0);
	});

	it('holds no more than one frame, however long the terminal stalls', () => {
		const terminal = new SlowTerminal();
		const output = new ScreenOutput(terminal, plainLook);
		for (let number = 0; number < 10_000; number++) output.show(page(`${number} ${'x'.repeat(1000)}`));
		expect(terminal.writableLength).toBeLessThan(2000);
	});

	it('paints the last frame again when the screen was someone else’s and nothing new comes', async () => {
		const terminal = new SlowTerminal();
		const output = new ScreenOutput(terminal, plainLook);
		output.show(page('ring'));
		await terminal.take();
		output.forget();
		output.settle();
		await terminal.take();
		expect(terminal.taken).toBe('\u001B[0m\u001B[2J\u001B[1Hring'.repeat(2));
		output.settle();
		expect(terminal.writableLength).toBe(0);
	});

	it('rings as often as told, apart from each other', async () => {
		vi.useFakeTimers({toFake: ['setTimeout', 'clearTimeout']});
		const terminal = new SlowTerminal();
		const output = new ScreenOutput(terminal, plainLook);
		output.ring(2);
		await terminal.take();
		expect(terminal.taken).toBe('\u0007');
		vi.advanceTimersByTime(1000);
		await terminal.take();
		expect(terminal.taken).toBe('\u0007\u0007');
		vi.useRealTimers();
	});

	it('counts its bytes, and writes none once closed', async () => {
		const terminal = new SlowTerminal();
		const output = new ScreenOutput(terminal, plainLook);
		output.show(page('█'));
		await terminal.take();
		expect(output.bytes).toBe(Buffer.byteLength(terminal.taken));
		output.close();
		output.show(page('more'));
		output.ring(2);
		expect(terminal.writableLength).toBe(0);
	});
});
