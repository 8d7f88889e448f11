import {access} from 'node:fs/promises';

/** Whether something of that name exists, whatever it is and whether or not it may be read. */
export async function isThere(path: string): Promise<boolean> {
	return access(path).then(
		() => true,
		() => false,
	);
}
