import {open} from 'node:fs/promises';
import {dirname} from 'node:path';

type OpenFolder = (path: string, flags: string) => Promise<{sync(): Promise<void>; close(): Promise<void>}>;

/**
 * Waits until a file's name is on the disk, too: the data of a new or renamed file survive a power cut only together
 * with the folder that names it (POSIX leaves that to whoever writes, see fsync(2) of Linux). Where folders cannot be
 * synced (Windows, some network file systems) nothing is done, and nothing more could be.
 *
 * @param path Of the file.
 * @param openFolder For tests.
 */
export async function syncFolder(path: string, openFolder: OpenFolder = open): Promise<void> {
	const folder = await openFolder(dirname(path), 'r').catch(() => undefined);
	await folder?.sync().catch(() => {});
	await folder?.close().catch(() => {});
}
