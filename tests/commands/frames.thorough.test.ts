import {writeFileSync} from 'node:fs';
import {describe, expect, test} from 'vitest';
import {type FramesOptions, framesCommand} from '../../source/commands/frames.ts';
import {testFolder} from '../gloves/test-folder.ts';
import {boardLines} from './board-lines.ts';
import {runCaptured} from './run-captured.ts';

const {at} = testFolder();

const run = (options: FramesOptions) => runCaptured(framesCommand, options);

describe('frames', () => {
	test('comma to ndjson and back gives the same lines, and so does every other form', async () => {
		const log = `${boardLines.join('\n')}\n`;
		writeFileSync(at('board.txt'), log);
		for (const form of ['ndjson', 'csv', 'tsv', 'labels'] as const) {
			await run({source: at('board.txt'), format: form, output: at(`x.${form}`), force: true});
			const back = await run({source: at(`x.${form}`), format: 'comma'});
			expect(back.text, form).toBe(log);
		}
	});
});
