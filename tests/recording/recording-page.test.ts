import {mkdtemp, readFile, rm} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {describe, expect, it} from 'vitest';
import {RecordingWriter} from '../../source/recording/recording-writer.ts';
import {openBytes} from '../../source/sources/open-file.ts';
import {documentedExamples, writeItems} from '../sources/documented-examples.ts';
import {readAll} from '../sources/reading.ts';

const examples = documentedExamples('recording.md');

const open = (input: Uint8Array) =>
	openBytes(
		'glove.gbrec',
		(async function* () {
			yield Buffer.from(input);
		})(),
		{},
	);

describe('docs/recording.md', () => {
	it.each(examples)('gives what it says beneath line $line', async ({input, items}) => {
		expect(writeItems(await readAll(await open(input)))).toBe(items);
	});

	it('shows a whole file as the writer writes it, but for the spelling of its JSON', async () => {
		const {input} = examples.find(({language}) => language === 'gbrec')!;
		const folder = await mkdtemp(join(tmpdir(), 'page-'));
		const path = join(folder, 'glove.gbrec');
		const source = await open(input);
		const writer = await RecordingWriter.create(path, {
			source: {kind: 'serial', name: '/dev/ttyUSB0', timing: 'measured', baud: source.info.baud},
			note: source.info.note,
			startedAt: new Date(source.info.startedAt!),
		});
		for (const item of await readAll(source)) writer.write(item);
		await writer.close();
		const parsed = (text: string) =>
			text
				.trimEnd()
				.split('\n')
				.map(line => JSON.parse(line));
		expect(parsed(await readFile(path, 'utf8'))).toEqual(parsed(input.toString()));
		await rm(folder, {recursive: true});
	});

	it('has a whole file and a cut one', () => {
		expect(examples.map(({language}) => language)).toEqual(['gbrec', 'gbrec-cut']);
	});
});
