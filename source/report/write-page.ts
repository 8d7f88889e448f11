import {open, writeFile} from 'node:fs/promises';
import {CannotError} from '../cannot-error.ts';

const why: Readonly<Record<string, string>> = {
	ENOENT: 'there is no such folder. Make it first.',
	EISDIR: 'it is a folder. Name a file in it.',
	EACCES: 'permission denied. Name a file in a folder of your own.',
	EROFS: 'that disk is read-only. Name a file on another one.',
	ENOSPC: 'the disk is full. Free some space, or name a file on another disk.',
};

/** What a file has to begin with to be made anew. */
const beginnings = {page: '<!doctype html>', junit: '<?xml', svg: '<svg'} as const;

/**
 * Writes a page. A page that is there is made anew; any other file is kept: a recording named by mistake must not be
 * lost. Likewise other kinds of output that go to a file beside the report. Throws `CannotError` where it cannot be written.
 */
export async function writePage(file: string, page: string, kind: keyof typeof beginnings = 'page'): Promise<void> {
	if (file === '-' && kind === 'page') {
		throw new CannotError(
			'A page goes into a file beside the report: name one. The page alone on standard output: glovebench report FILE -o -',
		);
	}

	if (await holdsSomethingElse(file, beginnings[kind])) {
		throw new CannotError(
			`${file} is there already and is no ${names[kind]}: it is left as it is. Give the ${names[kind]} another name.`,
		);
	}

	try {
		await writeFile(file, page);
	} catch (error) {
		const {code, message} = error as NodeJS.ErrnoException;
		if (code === undefined) throw error;
		throw new CannotError(`Cannot write ${file}: ${why[code] ?? `${message}.`}`);
	}
}

const names = {page: 'page', junit: 'JUnit file', svg: 'chart'} as const;

async function holdsSomethingElse(file: string, start: string): Promise<boolean> {
	const handle = await open(file, 'r').catch(() => undefined);
	if (handle === undefined) return false;
	try {
		const stats = await handle.stat();
		if (!stats.isFile() || stats.size === 0) return false;
		const {buffer, bytesRead} = await handle.read(Buffer.alloc(start.length));
		return buffer.toString('latin1', 0, bytesRead).toLowerCase() !== start;
	} finally {
		await handle.close();
	}
}
