import {describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {replayCommand} from '../../source/commands/replay.ts';
import {terminalIo} from './terminal-io.ts';

describe('replay', () => {
	it('suggests check where there is no terminal to draw on', async () => {
		const run = replayCommand({file: 'left.gbrec'}, terminalIo(false));
		await expect(run).rejects.toThrow(CannotError);
		await expect(run).rejects.toThrow(/standard output is none: try `glovebench check left\.gbrec`/);
	});

	it('suggests attach for a port', async () => {
		await expect(replayCommand({file: '/dev/ttyUSB0'}, terminalIo(true))).rejects.toThrow(
			/live source.*`glovebench attach \/dev\/ttyUSB0`/,
		);
	});

	it('says which file is not there', async () => {
		await expect(replayCommand({file: 'nothing.gbrec'}, terminalIo(true))).rejects.toThrow(
			/^nothing\.gbrec is not there/,
		);
	});
});
