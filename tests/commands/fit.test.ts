import {readFileSync, writeFileSync} from 'node:fs';
import stringWidth from 'string-width';
import {beforeAll, describe, expect, it} from 'vitest';
import {type FitOptions, fitCommand} from '../../source/commands/fit.ts';
import {simulateCommand} from '../../source/commands/simulate.ts';
import {testFolder} from '../gloves/test-folder.ts';
import {runCaptured} from './run-captured.ts';

const {at} = testFolder();
const moving = at('moving.gbrec');
const broken = at('broken.gbrec');

beforeAll(async () => {
	const script = 'rest 2s, fist 5x, each 1x, stick around 2x, stick sides 3x, rest 1s';
	await runCaptured(simulateCommand, {output: moving, for: 60, seed: 5, script});
	await runCaptured(simulateCommand, {output: broken, for: 60, seed: 5, script, fault: ['floating-input:ring']});
});

const runFit = (options: Partial<FitOptions> & {source: string}) => runCaptured(fitCommand, options);

describe('fit', () => {
	it('prints settings for every finger and the stick within 80 columns, and resolves to 0', async () => {
		const {status, text} = await runFit({source: moving});
		expect(status).toBe(0);
		for (const name of ['thumb', 'index', 'middle', 'ring', 'little']) {
			expect(text).toMatch(new RegExp(`^${name} +[\\d.]+ +[\\d.]+ +\\d+ % .*rises.*(sure|fair)$`, 'm'));
		}

		expect(text).toMatch(/^stick-x +centre \d+/m);
		expect(text).toContain('One Euro filter');
		expect(text).toMatch(/^Not judged yet: /m);
		for (const line of text.split('\n')) expect(stringWidth(line), line).toBeLessThanOrEqual(80);
	});

	it('uses the geometry and the flips of a sheet', async () => {
		const sheet = at('glove.toml');
		writeFileSync(
			sheet,
			`${['thumb', 'index', 'middle', 'ring', 'little', 'stick-x', 'stick-y', 'button-1', 'button-2'].map(name => `[[channel]]\nname = "${name}"\n${name === 'stick-x' ? 'inverted = true\n' : ''}`).join('')}[board]\nfull_scale = 1023\n[reel]\nelectrical_angle_deg = 270\nspool_diameter_mm = 20\n`,
		);
		const {text} = await runFit({source: moving, sheet, json: true});
		const {fingers, stick} = JSON.parse(text);
		const forReading = await runFit({source: moving, sheet});
		expect(forReading.text).toMatch(/^index +\d+° +[\d.]+ mm +3\.79 +[\d.]+$/m);
		for (const line of forReading.text.split('\n')) expect(stringWidth(line), line).toBeLessThanOrEqual(80);
		// 1023 counts over 270 degrees.
		expect(fingers[1].geometry.countsPerSpoolDegree).toBeCloseTo(3.78889, 5);
		expect(fingers[1].geometry.spoolDegrees).toBeCloseTo((fingers[1].high - fingers[1].low) / 3.7888889, 2);
		// A 20 mm spool takes up 47.1239 mm of cord over 270 degrees.
		expect(fingers[1].geometry.cordMm / fingers[1].geometry.spoolDegrees).toBeCloseTo(47.1239 / 270, 5);
		// Whole bending of a finger: 90 + 100 + 80 degrees (hand-surgery reference tables).
		expect(fingers[1].geometry.countsPerFingerDegree).toBeCloseTo((fingers[1].high - fingers[1].low) / 270, 4);
		expect(stick.x.flip).toBe(true);
		expect(stick.y.flip).toBe(null);
	});

	it('refuses a floating channel by name, gives the others, and resolves to 1', async () => {
		const {status, text} = await runFit({source: broken, json: true});
		const result = JSON.parse(text);
		expect(status).toBe(1);
		expect(result.schema).toBe(1);
		expect(result.fingers.map(({name}: {name: string}) => name)).toEqual(['thumb', 'index', 'middle', 'little']);
		expect(result.refused).toEqual([{name: 'ring', reason: expect.stringContaining('floating-input')}]);
	});

	it('prints a C header', async () => {
		const {text} = await runFit({source: moving, header: true});
		expect(text).toMatch(/^#define GLOVE_INDEX_LOW \d+$/m);
	});

	it('cannot give anything from a hand that never moved, and says what to do', async () => {
		const log = at('still.txt');
		writeFileSync(log, '512,498,505,300,700,1,1\r\n'.repeat(1000));
		await expect(runFit({source: log})).rejects.toThrow(
			/does not suffice for settings\. thumb: It has not moved: open and close/,
		);
	});

	it('takes one form of output at a time', async () => {
		await expect(runFit({source: moving, json: true, header: true})).rejects.toThrow(
			'--json and --header exclude each other',
		);
	});

	it('says that an empty source has nothing in it', async () => {
		const log = at('empty.txt');
		writeFileSync(log, 'hello\r\n');
		await expect(runFit({source: log})).rejects.toThrow(/has no frame in it/);
	});
});

describe('fit on a recording of a bring-up along a ruler', () => {
	const ruler = at('ruler.gbrec');
	beforeAll(async () => {
		const plain = at('plain.gbrec');
		await runCaptured(simulateCommand, {
			output: plain,
			for: 80,
			seed: 3,
			rate: 50,
			layout: 'thumb,index,middle,ring,little',
			reel: ['index:taper=audio'],
			script: 'rest 3s, ruler index 5mm, fist 5x, rest 3s',
		});
		const lines = readFileSync(plain, 'utf8').trimEnd().split('\n');
		const lineAt = (t: number) => lines.findIndex((line, i) => i > 0 && JSON.parse(line).t >= t);
		lines.splice(lineAt(2.8), 0, '{"t":2.8,"mark":"bring-up: ruler index"}');
		lines.splice(1, 0, '{"t":0,"mark":"bring-up: rest"}');
		writeFileSync(ruler, `${lines.join('\n')}\n`);
	});

	it('gives a table of nine readings for the header, by which a firmware bends a finger evenly', async () => {
		const {text} = await runFit({source: ruler, header: true});
		const [, found] = /#define GLOVE_INDEX_TABLE \{([\d, ]+)\}/.exec(text)!;
		const table = found.split(', ').map(Number);
		expect(table).toHaveLength(9);
		const steps = table.slice(1).map((level, i) => level - table[i]);
		expect(Math.min(...steps)).toBeGreaterThan(0);
		// An audio track: the steps at one end are several times those at the other.
		const ends = [steps[0], steps[7]].sort((a, b) => a - b);
		expect(ends[1] / ends[0]).toBeGreaterThan(3);
		expect(text).toContain(`#define GLOVE_INDEX_LOW ${table[0]}\n`);
		expect(text).toContain(`#define GLOVE_INDEX_HIGH ${table[8]}\n`);
		expect(text).not.toContain('GLOVE_THUMB_TABLE');
		expect(text).toContain('glove_bending_by_table');
		const {text: words} = await runFit({source: ruler});
		expect(words).toMatch(/At nine even lengths of cord.*\n(?:.*\n)?\s+index: \d+, \d+/);
		expect(JSON.parse((await runFit({source: ruler, json: true})).text).fingers[1].table).toHaveLength(9);
	});
});
