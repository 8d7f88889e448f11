import {mkdtempSync, readdirSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {bringUpCommand} from '../../source/commands/bringup.ts';
import {compareCommand} from '../../source/commands/compare.ts';
import {explainCommand} from '../../source/commands/explain.ts';
import {fitCommand} from '../../source/commands/fit.ts';
import {linkCommand} from '../../source/commands/link.ts';
import {mountCommand} from '../../source/commands/mount.ts';
import {planCommand} from '../../source/commands/plan.ts';
import {portsCommand} from '../../source/commands/ports.ts';
import {sheetCommand} from '../../source/commands/sheet.ts';
import {expectToKeepTo, keepsTo} from './published-schema.ts';

const root = new URL('../../', import.meta.url).pathname;
const sample = (name: string): string => path.join(root, 'recordings', `${name}.gbrec`);
const example = (name: string): string => path.join(root, 'docs/examples', name);

let folder: string;
beforeAll(() => {
	folder = mkdtempSync(path.join(tmpdir(), 'json-kinds-'));
	writeFileSync(path.join(folder, 'wrong.toml'), '[board]\nfamly = "avr"\n');
});
afterAll(() => rmSync(folder, {recursive: true}));

function capture() {
	let text = '';
	const write = (chunk: string) => {
		text += chunk;
		return true;
	};
	const io = {stdin: process.stdin, stdout: {write}, stderr: {write: () => true}, signal: new AbortController().signal};
	return {io: io as never, json: () => JSON.parse(text)};
}

/** Real output of every command with --json that is not a check; those are in tests/commands/check.test.ts. */
const outputs: readonly (readonly [kind: string, of: string, print: (io: never) => Promise<number>])[] = [
	['fit', 'a whole glove', io => fitCommand({source: sample('healthy'), json: true}, io)],
	['fit', 'scaled, with a reel that is stuck', io => fitCommand({source: sample('stuck-mid'), json: true}, io)],
	[
		'fit',
		'a glove with a sheet',
		io => fitCommand({source: sample('healthy'), sheet: example('fox-left.toml'), json: true}, io),
	],
	['bringup', 'one that passed', io => bringUpCommand({port: sample('bringup-good'), json: true}, io)],
	['bringup', 'one that did not', io => bringUpCommand({port: sample('bringup-swapped-reversed'), json: true}, io)],
	['plan', 'a good sheet', io => planCommand({sheet: example('fox-left.toml'), json: true}, io)],
	['plan', 'one with mistakes', io => planCommand({sheet: example('fox-right-mistaken.toml'), json: true}, io)],
	['sheet', 'a good sheet', io => sheetCommand({action: 'check', file: example('fox-left.toml'), json: true}, io)],
	[
		'sheet',
		'one with mistakes',
		io => sheetCommand({action: 'check', file: path.join(folder, 'wrong.toml'), json: true}, io),
	],
	['ports', 'none', io => portsCommand({json: true}, io, async () => [])],
	[
		'ports',
		'one',
		io =>
			portsCommand({json: true}, io, async () => [
				{
					path: '/dev/ttyUSB0',
					maker: null,
					vendorId: '1a86',
					productId: '7523',
					serialNumber: null,
					likelyChip: 'a bridge',
					problem: null,
				},
			]),
	],
	['explain', 'one finding', io => explainCommand({code: 'dropout', json: true}, io)],
	['link', 'a counter that skips', io => linkCommand({source: sample('lost-frames'), json: true}, io)],
	[
		'link',
		'beside another, without a counter',
		io => linkCommand({source: sample('stall'), other: sample('healthy'), json: true}, io),
	],
	['mount', 'all known', io => mountCommand({poses: example('fox-poses.csv'), json: true}, io)],
	[
		'mount',
		'a pivot alone, and the offset that was typed in before',
		io =>
			mountCommand(
				{poses: example('fox-poses.csv'), steps: 'pivot 24s-38s', verify: example('fox-mount.json'), json: true},
				io,
			),
	],
	['compare', 'two sessions', io => compareCommand({a: sample('narrow-span'), b: sample('healthy'), json: true}, io)],
];

describe('JSON of every command', () => {
	it.each(outputs)('%s, %s: says its kind and schema, and keeps to docs/schemas/', async (kind, _of, print) => {
		const {io, json} = capture();
		await print(io);
		const printed = json();
		expect(printed).toMatchObject({kind, schema: expect.any(Number), tool: {name: 'glovebench'}});
		expectToKeepTo(kind, printed);
		// A schema that takes anything would take this as well.
		expect(keepsTo(kind, {...printed, surprise: 1})).toBe(false);
		expect(keepsTo(kind, {...printed, kind: 'other'})).toBe(false);
	});

	it('has a schema for each kind, and no schema without a kind that is tested', () => {
		const published = readdirSync(path.join(root, 'docs/schemas')).map(name => name.replace('.schema.json', ''));
		const tested = new Set([...outputs.map(([kind]) => kind), 'check', 'check-events', 'check-why']);
		expect(published.filter(name => !name.includes('.')).sort()).toEqual([...tested].sort());
	});
});
