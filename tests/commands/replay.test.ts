import {PassThrough} from 'node:stream';
import {describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import type {CommandIo} from '../../source/command-line/command-io.ts';
import {replayCommand} from '../../source/commands/replay.ts';

function makeIo(isTTY: boolean): CommandIo {
	const stream = () => Object.assign(new PassThrough(), {isTTY});
	return {stdin: stream(), stdout: stream(), stderr: stream(), signal: new AbortController().signal};
}

describe('replay', () => {
	it('suggests check where there is no terminal to draw on', async () => {
		const run = replayCommand({file: 'left.gbrec'}, makeIo(false));
		await expect(run).rejects.toThrow(CannotError);
		await expect(run).rejects.toThrow(/standard output is none: try `glovebench check left\.gbrec`/);
	});

	it('suggests attach for a port', async () => {
		await expect(replayCommand({file: '/dev/ttyUSB0'}, makeIo(true))).rejects.toThrow(
			/live source.*`glovebench attach \/dev\/ttyUSB0`/,
		);
	});

	it('says which file is not there', async () => {
		await expect(replayCommand({file: 'nothing.gbrec'}, makeIo(true))).rejects.toThrow(/^nothing\.gbrec is not there/);
	});
});
