import {Writable} from 'node:stream';
import {describe, expect, it} from 'vitest';
import {Terminal} from '../../source/screen/terminal.ts';

function makeTerminal() {
	let written = '';
	const raw: boolean[] = [];
	const out = new Writable({
		decodeStrings: false,
		write(chunk: string, _encoding, done) {
			written += chunk;
			done();
		},
	});
	const blocking: boolean[] = [];
	Object.assign(out, {_handle: {setBlocking: (value: boolean) => blocking.push(value)}});
	const terminal = new Terminal(out, {isTTY: true, setRawMode: value => raw.push(value)});
	return {terminal, written: () => written, raw, blocking, out};
}

const entered = '\u001B[?1049h\u001B[?25l\u001B[2J';
const left = '\u001B[m\u001B[?25h\u001B[?1049l';

describe('Terminal', () => {
	it('gives back screen, cursor and input mode, once', () => {
		const {terminal, written, raw} = makeTerminal();
		terminal.enter();
		terminal.leave();
		terminal.leave();
		expect(written()).toBe(entered + left);
		expect(raw).toEqual([false]);
		expect(terminal.entered).toBe(false);
	});

	it('gives it back before the message of a crash is printed', () => {
		const {terminal, written} = makeTerminal();
		terminal.enter();
		(process as NodeJS.EventEmitter).emit('uncaughtExceptionMonitor', new Error('crash'), 'uncaughtException');
		expect(written()).toBe(entered + left);
	});

	it('leaves no listeners behind, however often it is entered', () => {
		const count = () => process.listenerCount('exit') + process.listenerCount('uncaughtExceptionMonitor');
		const before = count();
		const {terminal} = makeTerminal();
		for (let round = 0; round < 5; round++) {
			terminal.enter();
			terminal.leave();
		}

		expect(count()).toBe(before);
	});

	it('writes without waiting for a slow terminal, and waits again afterwards', () => {
		const {terminal, blocking} = makeTerminal();
		terminal.enter();
		terminal.leave();
		expect(blocking).toEqual([false, true]);
	});

	it('survives a terminal that is gone', () => {
		const {terminal, out} = makeTerminal();
		terminal.enter();
		out.write = () => {
			throw new Error('EIO');
		};
		expect(() => terminal.leave()).not.toThrow();
	});
});
