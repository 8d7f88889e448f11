import {mkdtempSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterAll, beforeAll, describe, expect, test} from 'vitest';
import {checkedAgain} from './read-again.ts';

const withoutFrames = ['wrong-baud.gbrec'];

/** The pause of a restart is a stall where the start-up text is left out that tells what it was; `frames` says so. */
const more: Readonly<Record<string, readonly string[]>> = {'device-restart.gbrec': ['stall null out-of-spec']};

/** Tests that what `frames` writes of each recording gives the findings of the recording. */
export function testCheckedAgain(recordings: readonly string[]): void {
	let folder: string;
	beforeAll(() => {
		folder = mkdtempSync(path.join(tmpdir(), 'glovebench-again-'));
	});
	afterAll(() => rmSync(folder, {recursive: true}));

	describe('what frames writes of every recording, checked again', () => {
		test.each(recordings)('%s: the same findings on channels, and the five of the link', async name => {
			const again = await checkedAgain(name, folder);
			expect(again === null).toBe(withoutFrames.includes(name));
			if (again === null) return;
			expect(again.framesAfter).toBe(again.framesBefore);
			expect(again.after).toEqual([...again.before, ...(more[name] ?? [])].sort());
		});
	});
}
