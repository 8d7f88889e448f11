import path from 'node:path';
import {describe, expect, it} from 'vitest';
import type {CommandIo} from '../../source/command-line/command-io.ts';
import {bringUpCommand} from '../../source/commands/bringup.ts';
import {checkCommand} from '../../source/commands/check.ts';
import {compareCommand} from '../../source/commands/compare.ts';
import {explainCommand} from '../../source/commands/explain.ts';
import {fitCommand} from '../../source/commands/fit.ts';
import {planCommand} from '../../source/commands/plan.ts';
import {textWidth} from '../../source/text/text-width.ts';
import {runCaptured} from './run-captured.ts';

const root = new URL('../../', import.meta.url).pathname;
const sample = (name: string) => path.join(root, 'recordings', `${name}.gbrec`);
const sheet = path.join(root, 'docs/examples/fox-left.toml');
const mistaken = path.join(root, 'docs/examples/fox-right-mistaken.toml');

/** What `COLUMNS` makes of every report: the command, and how it is called with so many columns. */
const reports: readonly (readonly [string, (columns: number, io: CommandIo) => Promise<number>])[] = [
	['check', (columns, io) => checkCommand({source: sample('stick-short-throw'), columns}, io)],
	[
		'check of several sources',
		(columns, io) => checkCommand({source: sample('dropout'), more: [sample('healthy'), 'none.txt'], columns}, io),
	],
	['check --why', (columns, io) => checkCommand({source: sample('healthy'), why: 'narrow-span', columns}, io)],
	['fit', (columns, io) => fitCommand({source: sample('healthy'), sheet, columns}, io)],
	['fit, with what is refused', (columns, io) => fitCommand({source: sample('stuck-mid'), columns}, io)],
	['compare', (columns, io) => compareCommand({a: sample('narrow-span'), b: sample('healthy'), columns}, io)],
	['plan', (columns, io) => planCommand({sheet: mistaken, columns}, io)],
	['bringup', (columns, io) => bringUpCommand({port: sample('bringup-swapped-reversed'), columns} as never, io)],
	['explain', (columns, io) => explainCommand({code: 'floating-input', columns}, io)],
];

async function linesOf(report: (columns: number, io: CommandIo) => Promise<number>, columns: number) {
	const {text} = await runCaptured(report, columns);
	return text.trimEnd().split('\n');
}

describe('reports take the width of the terminal', () => {
	it.each(reports)('%s: no line is wider than 60 columns, no word is broken, and 120 are used', async (_, report) => {
		const narrow = await linesOf(report, 60);
		// A path is a word, which is never broken.
		expect(narrow.filter(line => textWidth(line) > 60 && !line.includes(root))).toEqual([]);
		const wide = await linesOf(report, 120);
		expect(wide.filter(line => textWidth(line) > 120 && !line.includes(root))).toEqual([]);
		expect(wide.length).toBeLessThan(narrow.length);
		const words = (lines: readonly string[]) =>
			lines
				.join(' ')
				.replaceAll(/,(?=\s)/g, '')
				.split(/\s+/);
		const known = new Set(words(wide));
		// Bars of a chart are drawn as wide as there is room.
		expect(words(narrow).filter(word => !known.has(word) && !/^[─━▕▏█▌.\-=|#┄·]+$/.test(word))).toEqual([]);
	});
});
