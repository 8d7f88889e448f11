import {mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {PassThrough} from 'node:stream';
import {pathToFileURL} from 'node:url';
import {afterAll, expect, test} from 'vitest';
import {type CheckedOne, checkOne} from '../../source/commands/check-one.ts';
import {checkInThreads, threadsFor} from '../../source/commands/check-threads.ts';
import {checkJson} from '../../source/report/check-json.ts';
import {cliPath} from '../cli/run-cli.ts';
import {gloveRows} from '../sources/log/disguised.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'glovebench-threads-'));
afterAll(() => rmSync(folder, {recursive: true, force: true}));
const script = pathToFileURL(path.join(path.dirname(cliPath), 'check-worker.js'));

/** Logs of different lengths, so that they end in another order than they begin. */
const names = [900, 40, 300, 600].map((rows, i) => {
	const name = path.join(folder, `${i}.txt`);
	writeFileSync(
		name,
		gloveRows(rows)
			.map(row => `${row.join()}\n`)
			.join(''),
	);
	return name;
});
names.splice(1, 0, path.join(folder, 'not-there.txt'));

const told = (checked: CheckedOne): string =>
	'why' in checked ? checked.why : JSON.stringify(checkJson(checked.snapshot, checked.info));

test('several threads tell of the same sources in the same order what one thread tells, to the digit', async () => {
	const {signal} = new AbortController();
	const one: string[] = [];
	for (const name of names)
		one.push(told(await checkOne(name, {source: name}, {stdin: new PassThrough(), signal}, () => {})));
	const several: string[] = [];
	let share = 0;
	const progress = (now: number) => {
		share = now;
	};
	for await (const checked of checkInThreads(names, {source: names[0]}, signal, 2, progress, script))
		several.push(told(checked));
	expect(several).toEqual(one);
	expect(several[1]).toMatch(/not-there\.txt is not there/);
	expect(share).toBeGreaterThan(0.5);
});

test('a stop reaches every thread: what was read until then is told', async () => {
	const cancel = new AbortController();
	cancel.abort();
	const several: CheckedOne[] = [];
	for await (const checked of checkInThreads(names, {source: names[0]}, cancel.signal, 2, () => {}, script))
		several.push(checked);
	expect(several).toHaveLength(names.length);
});

test('threads are for files alone, as many as there are cores, where there is enough to read', () => {
	// Beside the source there is no built program of a thread.
	expect(threadsFor(names, 4, 0)).toBe(0);
	expect(threadsFor([names[0]], 4, 0)).toBe(0);
});
