import {mkdtempSync, readdirSync, rmSync} from 'node:fs';
import {open} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {afterAll, expect, it, vi} from 'vitest';
import {writeProgress} from '../../source/bringup/progress-file.ts';

const folder = mkdtempSync(join(tmpdir(), 'progress-sync-'));
afterAll(() => rmSync(folder, {recursive: true}));

// A name may reach the disk before what it names: after a power cut the file would be empty (POSIX, rename and fsync).
it.skipIf(process.platform === 'win32')(
	'brings progress to the disk before it gets its name, and then the name',
	async () => {
		const handle = await open(folder);
		const files = Object.getPrototypeOf(handle) as typeof handle;
		await handle.close();
		const {sync} = files;
		/** What the folder held at each sync, and whether it was the folder that was synced. */
		const syncs: [names: string[], isFolder: boolean][] = [];
		const spy = vi.spyOn(files, 'sync').mockImplementation(async function (this: typeof handle) {
			syncs.push([readdirSync(folder), (await this.stat()).isDirectory()]);
			return sync.call(this);
		});
		await writeProgress(join(folder, 'fox.progress.json'), ['thumb'], []);
		spy.mockRestore();
		expect(syncs).toEqual([
			[['fox.progress.json.new'], false],
			[['fox.progress.json'], true],
		]);
	},
);
