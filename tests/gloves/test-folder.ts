import {mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterAll} from 'vitest';

export type TestFolder = {
	readonly path: string;
	/** The full name of a file in it, which need not be there. */
	at(name: string): string;
	/** Writes a file in it; gives its full name. */
	write(name: string, content: string | Uint8Array): string;
};

/** A folder for the tests of a file or a `describe`, where it is called; it is removed after them. */
export function testFolder(): TestFolder {
	const folder = mkdtempSync(path.join(tmpdir(), 'glovebench-'));
	afterAll(() => rmSync(folder, {recursive: true, force: true}));
	const at = (name: string) => path.join(folder, name);
	return {
		path: folder,
		at,
		write(name, content) {
			writeFileSync(at(name), content);
			return at(name);
		},
	};
}
