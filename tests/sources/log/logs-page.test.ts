import {Readable} from 'node:stream';
import {describe, expect, it} from 'vitest';
import {openBytes} from '../../../source/sources/open-file.ts';
import {documentedExamples, writeItems} from '../documented-examples.ts';
import {readAll} from '../reading.ts';

const examples = documentedExamples('logs.md');

describe('docs/logs.md', () => {
	it('has an example of every kind', () => {
		expect(examples.length).toBeGreaterThanOrEqual(9);
	});

	it.each(examples)('gives what it says beneath line $line', async ({input, items}) => {
		const source = await openBytes('glove.log', Readable.from([input]), {});
		expect(`timing ${source.info.timing}\n${writeItems(await readAll(source))}`).toBe(items);
	});
});
