import type {Readable} from 'node:stream';
import type {CommandIo} from '../command-line/command-io.ts';
import type {Desk} from './desk.ts';

export type LineWiseOptions = {readonly keys: (Readable & {readonly isTTY?: boolean}) | null};

export async function runLineWise(_desk: Desk, _options: LineWiseOptions, _io: CommandIo): Promise<number> {
	return 0;
}
