import {spawn} from 'node:child_process';
import {once} from 'node:events';
import {mkdtemp, readFile, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {afterEach, beforeEach, describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {RecordingWriter} from '../../source/recording/recording-writer.ts';
import {openSource} from '../../source/sources/open-source.ts';
import type {SourceInfo} from '../../source/stream/source.ts';
import {readAll, textsOf} from '../sources/reading.ts';

const info: SourceInfo = {kind: 'serial', name: '/dev/ttyUSB0', timing: 'measured', baud: 115_200};

let folder: string;
beforeEach(async () => {
	folder = await mkdtemp(join(tmpdir(), 'recording-'));
});
afterEach(() => rm(folder, {recursive: true, force: true}));

describe('a recording that is cut', () => {
	it('reads at every cut of a compressed one, and never less than of an earlier cut', async () => {
		const path = join(folder, 'cut.gbrec.gz');
		const writer = await RecordingWriter.create(path, {source: info});
		for (let n = 0; n < 20; n++) {
			writer.write({t: n / 100, bytes: Buffer.from(`${500 + n},498\r\n`)});
			await writer.flush();
		}

		await writer.close();
		const bytes = await readFile(path);
		let most = 0;
		let refused = 0;
		for (let cut = 1; cut <= bytes.byteLength; cut++) {
			await writeFile(path, bytes.subarray(0, cut));
			const read = await openSource(path)
				.then(readAll)
				.catch(error => {
					expect(error, `cut at ${cut}`).toBeInstanceOf(CannotError);
					refused++;
					return [];
				});
			const texts = textsOf(read);
			expect(texts.length, `cut at ${cut}`).toBeGreaterThanOrEqual(most);
			most = texts.length;
			texts.forEach((text, n) => {
				expect(text).toBe(`${500 + n},498\r\n`);
			});
		}

		expect(most).toBe(20);
		// Only the beginning, up to the end of the header, gives nothing.
		expect(refused).toBeLessThan(300);
	});
});

describe('a writer', () => {
	it.each(['killed.gbrec', 'killed.gbrec.gz'])(
		'loses nothing older than a second when it is killed: %s',
		async name => {
			const path = join(folder, name);
			const writer = join(import.meta.dirname, 'endless-writer.ts');
			const child = spawn(process.execPath, ['--input-type=module', '-e', await bundled(writer), path], {
				stdio: ['ignore', 'pipe', 'inherit'],
			});
			let said = '';
			for await (const chunk of child.stdout) {
				said += chunk;
				if (said.split('\n').length > 130) break;
			}

			child.kill('SIGKILL');
			await once(child, 'exit');
			const [last, beforeMs] = [said.trimEnd().split('\n').at(-1)!, 1000];
			const saidAll = said
				.slice(0, said.lastIndexOf('\n'))
				.split('\n')
				.map(line => JSON.parse(line) as {t: number});
			const read = await readAll(await openSource(path));
			const kept = textsOf(read).length;
			const due = saidAll.filter(({t}) => t * 1000 <= saidAll.at(-1)!.t * 1000 - beforeMs).length;
			expect(last).not.toBe('');
			expect(due).toBeGreaterThan(10);
			expect(kept).toBeGreaterThanOrEqual(due);
			expect(read.at(-1)).toMatchObject({event: 'truncated'});
		},
	);
});

async function bundled(path: string): Promise<string> {
	const {build} = await import('esbuild');
	const {outputFiles} = await build({entryPoints: [path], bundle: true, write: false, format: 'esm', platform: 'node'});
	return outputFiles[0]!.text;
}
