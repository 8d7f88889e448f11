import {mkdtempSync, readdirSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {afterAll, describe, expect, it} from 'vitest';
import {progressPath, readProgress, removeProgress, writeProgress} from '../../source/bringup/progress-file.ts';

const folder = mkdtempSync(join(tmpdir(), 'progress-'));
afterAll(() => rmSync(folder, {recursive: true}));

const records = [{id: 'rest', outcome: 'done', from: 0, to: 3, column: null, noise: [{column: 0, rms: 0.5}]}] as const;

describe('progress file', () => {
	it('lies next to the sheet, and gives back what was kept', async () => {
		const path = progressPath(join(folder, 'fox-as-built.toml'));
		expect(path).toBe(join(folder, 'fox-as-built.progress.json'));
		await writeProgress(path, ['thumb'], records);
		await writeProgress(path, ['thumb', 'index'], records);
		expect(await readProgress(path)).toEqual({bringUpProgress: 1, columns: ['thumb', 'index'], records});
		expect(readdirSync(folder)).toEqual(['fox-as-built.progress.json']);
		await removeProgress(path);
		expect(await readProgress(path)).toBeUndefined();
	});

	it.each(['', '{', '{"bringUpProgress":2}', '{"bringUpProgress":1,"columns":[],"records":[null]}'])(
		'says what to do about a damaged one: %s',
		async text => {
			const path = join(folder, 'damaged.progress.json');
			writeFileSync(path, text);
			await expect(readProgress(path)).rejects.toThrow(/damaged.progress.json is damaged .* --fresh/);
		},
	);
});
