import {execFileSync} from 'node:child_process';
import {access, mkdtemp, readdir, readFile, rename, rm, writeFile} from 'node:fs/promises';
import {join} from 'node:path';
import {setTimeout as wait} from 'node:timers/promises';
import {describe, expect, it} from 'vitest';
import {openSource} from '../../source/sources/open-source.ts';
import {cliPath, runCli} from '../cli/run-cli.ts';
import {glovebench, ProgramOnScreen} from '../screen/program-on-screen.ts';
import {bytesOf, eventsOf, readAll} from '../sources/reading.ts';
import {numbersIn} from './numbered-glove.ts';
import {roughBench} from './rough-bench.ts';
import {isRoot, tally, within} from './tries.ts';

const mounts: string[] = [];
// A thousand lines a second: 64 KiB are full within a second or two.
const bench = roughBench(1, () => {
	for (const mount of mounts) execFileSync('umount', ['--lazy', mount]);
});

/** A disk of its own, as small as asked for; undefined where none may be mounted. */
async function smallDisk(options: string): Promise<string | undefined> {
	const place = await mkdtemp(join(bench.folder, 'disk-'));
	try {
		execFileSync('mount', ['-t', 'tmpfs', '-o', options, 'none', place], {stdio: 'ignore'});
	} catch {
		return undefined;
	}

	mounts.push(place);
	return place;
}

/** Reads up to where it was cut, in order and without a gap; gives how much that was. */
async function linesKept(path: string, isCut: boolean): Promise<number> {
	const items = await readAll(await openSource(path));
	const numbers = numbersIn(bytesOf(items).toString());
	expect(numbers).toEqual(numbers.map((_, index) => index));
	expect(eventsOf(items).includes('truncated')).toBe(isCut);
	return numbers.length;
}

const start = (args: readonly string[]): ProgramOnScreen => {
	const program = bench.keep(glovebench(args, {cwd: bench.folder, columns: 200}));
	return program;
};

describe.skipIf(process.platform === 'win32').concurrent('a disk', () => {
	it.for([
		['a.gbrec', 'size=64k'],
		['a.gbrec.gz', 'size=16k'],
	] as const)(
		'that fills up ends record in one line and keeps what there was: %s',
		{timeout: 120_000},
		async ([name, size], context) => {
			const disk = isRoot ? await smallDisk(size) : undefined;
			if (disk === undefined) return context.skip('no disk may be mounted here');
			const path = join(disk, name);
			const {status, stderr} = await runCli(['record', bench.address, '-o', path]);
			expect(status).toBe(2);
			expect(stderr).toMatch(
				/\nglovebench: The recording \S+ stops here: the disk is full\. Free some space, or record to another disk\. What was written before still reads\.\n$/,
			);
			expect(await linesKept(path, true)).toBeGreaterThan(300);
			// Full from the start: nothing is left that would be in the way of the next attempt.
			const next = await runCli(['record', bench.address, '-o', join(disk, 'next.gbrec')]);
			expect(next.status).toBe(2);
			expect(next.stderr).toMatch(/^glovebench: Cannot create \S+: the disk is full\. [^\n]*\n$/);
			expect(await readdir(disk)).toEqual([name]);
			tally('disks that filled up', 2);
		},
	);

	it('that allows no larger file ends record in one line and keeps what there was', async () => {
		const path = join(bench.folder, 'limited.gbrec');
		const program = new ProgramOnScreen(
			'/bin/sh',
			['-c', `ulimit -f 64; exec '${process.execPath}' '${cliPath}' record ${bench.address} -o limited.gbrec`],
			{cwd: bench.folder, columns: 200},
		);
		bench.keep(program);
		expect(await within(30_000, program.exited)).toBe(2);
		expect(program.text).toMatch(/limited\.gbrec stops here: the file has grown to the largest size allowed there\./);
		expect(await linesKept(path, true)).toBeGreaterThan(100);
		tally('files that may not grow');
	}, 120_000);

	it('that fills up stops the recording of attach, not its view; the status tells', async context => {
		const disk = isRoot ? await smallDisk('size=64k') : undefined;
		if (disk === undefined) return context.skip('no disk may be mounted here');
		const path = join(disk, 'a.gbrec');
		const program = start(['attach', bench.address, '--record', path]);
		await program.until(/stops here: the disk is full/);
		// The view goes on: the clock of the stream does.
		const clock = () => /live (\d+:\d+)/.exec(program.text)?.[1];
		const before = clock();
		await program.until(() => clock() !== before);
		program.send('q');
		expect(await within(30_000, program.exited)).toBe(2);
		expect(program.text).toMatch(/stops here: the disk is full/);
		expect(await linesKept(path, true)).toBeGreaterThan(300);
		tally('disks that filled up under the view');
	}, 120_000);

	it('that is read-only, a place that is taken, and one that is not there are refused in one line', async () => {
		const taken = join(bench.folder, 'taken.gbrec');
		await writeFile(taken, 'mine');
		const cases: [string, RegExp][] = [
			[taken, /taken\.gbrec is already there and is kept as it is: choose another name, or overwrite it with --force/],
			[join(bench.folder, 'no', 'a.gbrec'), /the folder \S+no does not exist/],
			[join(taken, 'a.gbrec'), /part of its path is a file/],
			[`${bench.folder}/`, /is already there|is a folder/],
		];
		const readOnly = isRoot ? await smallDisk('size=64k,ro') : undefined;
		if (readOnly !== undefined) cases.push([join(readOnly, 'a.gbrec'), /the disk is read-only/]);
		for (const [path, words] of cases) {
			// Told before anything is connected to: there is nothing to connect to here.
			const {status, stderr} = await runCli(['record', 'tcp://127.0.0.1:1', '-o', path]);
			expect(stderr).toMatch(words);
			expect(stderr).toMatch(/^glovebench: [^\n]*\n$/);
			expect(status).toBe(2);
			tally('places refused');
		}

		expect(await readFile(taken, 'utf8')).toBe('mine');
	}, 120_000);

	it('on which the file is renamed or removed loses nothing: record', async () => {
		const path = join(bench.folder, 'moving.gbrec');
		const program = start(['record', bench.address, '-o', path]);
		await program.until(/[1-9][\d,]* bytes/);
		await rename(path, join(bench.folder, 'moved.gbrec'));
		await program.until(/was renamed: the recording goes on in \S+moved\.gbrec/);
		await rm(join(bench.folder, 'moved.gbrec'));
		await program.until(/moved\.gbrec was removed: all that was recorded was written to \S+moved\.gbrec anew/);
		await wait(300);
		program.kill('SIGINT');
		expect(await within(30_000, program.exited)).toBe(130);
		expect(program.text).toMatch(/Recorded .* into \S+moved\.gbrec\.$/);
		expect(await linesKept(join(bench.folder, 'moved.gbrec'), false)).toBeGreaterThan(50);
		await expect(access(path)).rejects.toThrow();
		tally('files renamed or removed', 2);
	}, 120_000);

	it('on which the file is renamed or removed loses nothing: attach', async () => {
		const path = join(bench.folder, 'watched.gbrec');
		const program = start(['attach', bench.address, '--record', path]);
		await program.until(/REC [\d.]+ kB/);
		await rm(path);
		await program.until(/watched\.gbrec was removed: all that was recorded/);
		program.send('q');
		expect(await within(30_000, program.exited)).toBe(0);
		expect(await linesKept(path, false)).toBeGreaterThan(50);
		tally('files renamed or removed', 1);
	}, 120_000);
});
