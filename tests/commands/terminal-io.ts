import {PassThrough} from 'node:stream';
import type {CommandIo} from '../../source/command-line/command-io.ts';

/** Streams for a command that draws: all of them a terminal, or none. */
export function terminalIo(isTTY: boolean): CommandIo {
	const stream = () => Object.assign(new PassThrough(), {isTTY});
	return {stdin: stream(), stdout: stream(), stderr: stream(), signal: new AbortController().signal};
}
