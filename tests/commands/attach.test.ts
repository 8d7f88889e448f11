import {mkdtempSync, rmSync, symlinkSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {attachCommand} from '../../source/commands/attach.ts';
import {terminalIo} from './terminal-io.ts';

describe('attach', () => {
	it('suggests check where there is no terminal to draw on, before it opens the port', async () => {
		const run = attachCommand({port: '/dev/ttyUSB0'}, terminalIo(false));
		await expect(run).rejects.toThrow(CannotError);
		await expect(run).rejects.toThrow(/`glovebench check \/dev\/ttyUSB0`/);
	});

	it('suggests replay for a file, be it the first or the second', async () => {
		const file = 'recordings/dropout.gbrec';
		const suggestion = /`glovebench replay recordings\/dropout\.gbrec`/;
		await expect(attachCommand({port: file}, terminalIo(true))).rejects.toThrow(suggestion);
		const run = attachCommand({port: 'tcp://127.0.0.1:9', second: file}, terminalIo(true));
		await expect(run).rejects.toThrow(suggestion);
	});

	it('says of a name that leads nowhere that it does, and what a port is called', async () => {
		await expect(attachCommand({port: 'ttyUSB0'}, terminalIo(true))).rejects.toThrow(
			/^ttyUSB0 is not there: check the name\. For a port give its full name/,
		);
	});

	it('takes a device under any name, not only below /dev', async () => {
		const folder = mkdtempSync(join(tmpdir(), 'attach-'));
		const name = join(folder, 'glove');
		symlinkSync('/dev/null', name);
		await expect(attachCommand({port: name}, terminalIo(true))).rejects.toThrow(/it is no serial port/);
		rmSync(folder, {recursive: true});
	});

	it('says in a line why a port cannot be opened, and draws nothing', async () => {
		const io = terminalIo(true);
		let written = '';
		io.stdout.write = ((text: string) => {
			written += text;
			return true;
		}) as typeof io.stdout.write;
		await expect(attachCommand({port: '/dev/ttyNOTHING7'}, io)).rejects.toThrow(CannotError);
		expect(written).toBe('');
	});
});
