import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';

export async function checkCommand(_options: {source: string}, _io: CommandIo): Promise<number> {
	throw new CannotError('check is being built.');
}
