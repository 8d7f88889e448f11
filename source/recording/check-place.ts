import {access, constants, stat} from 'node:fs/promises';
import {dirname} from 'node:path';
import {CannotError} from '../cannot-error.ts';
import {whyNotCreated} from './recording-errors.ts';

/**
 * Asked before a port is opened, which restarts many boards: whether a recording could be made there.
 *
 * @param force The file may be there.
 * @throws CannotError, one line, where it could not.
 */
export async function checkPlace(path: string, force: boolean): Promise<void> {
	try {
		const found = await stat(path).catch((error: NodeJS.ErrnoException) => {
			if (error.code === 'ENOENT') return undefined;
			throw error;
		});
		if (found && !force) throw Object.assign(new Error('exists'), {code: 'EEXIST'});
		if (found?.isDirectory()) throw Object.assign(new Error('folder'), {code: 'EISDIR'});
		await access(found ? path : dirname(path), constants.W_OK);
	} catch (error) {
		throw new CannotError(whyNotCreated(path, error as NodeJS.ErrnoException));
	}
}
