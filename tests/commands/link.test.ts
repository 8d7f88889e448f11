import {readFileSync} from 'node:fs';
import {beforeAll, expect, test} from 'vitest';
import {type LinkOptions, linkCommand} from '../../source/commands/link.ts';
import {testFolder} from '../gloves/test-folder.ts';
import {runCaptured} from './run-captured.ts';

const {at, write} = testFolder();
let good: string;
let bad: string;
beforeAll(() => {
	const walk = (loses: (n: number) => boolean): string =>
		Array.from({length: 3000}, (_, n) => {
			const bend = Math.round(400 + 200 * Math.sin(n / 40));
			const pressed = n === 800 || n === 801 || n === 2000 || n === 2001 ? 0 : 1;
			return loses(n)
				? ''
				: `${(n / 100 + (n % 7) * 0.001).toFixed(4)} ${n},${10 * n},${bend},${bend + 9},${bend + 5},${bend + 40},${bend + 22},511,${510 + ((n * n) % 3)},${pressed}\n`;
		}).join('');
	good = write(
		'cable.log',
		walk(() => false),
	);
	bad = write(
		'radio.log',
		walk(n => n > 1000 && n < 1900 && n % 10 === 0),
	);
});

const run = (options: LinkOptions) => runCaptured(linkCommand, options);

test('a table from press to press, in 80 columns, the radio beside the cable', async () => {
	const {status, text} = await run({source: bad, other: good});
	expect(status).toBe(1);
	expect(text).toMatch(/^.*radio\.log: BAD: 89 of 3000 frames lost \(2\.97 %\)/);
	expect(text).toContain('Marks by button-1: 2');
	expect(text).toMatch(/^1: 8-20 s +1111 +7\.42 /m);
	expect(text).toMatch(/^side by side/m);
	expect(text.split('\n').filter(line => line.length > 80)).toEqual([]);
});

test('a sound link is status 0, by time where nothing marks', async () => {
	const {status, text} = await run({source: good, window: 15, mark: 'button-1', ascii: true});
	expect(status).toBe(0);
	expect(text).toMatch(/GOOD: 0 of 3000 frames lost/);
	expect(text).toMatch(/^[\x20-\x7e\n]*$/);
});

test('writes a page with charts and the same figures', async () => {
	const page = at('walk.html');
	await run({source: bad, other: good, html: page});
	const text = readFileSync(page, 'utf8');
	expect(text).toContain('89 of 3000 frames lost');
	expect(text).toContain('aria-label="Frames lost, % over time"');
	expect(text).not.toContain('<script');
});

test('reads a pipe as it comes', async () => {
	const {text} = await runCaptured(linkCommand, {source: '-'}, {stdin: readFileSync(bad, 'utf8')});
	expect(text).toContain('89 of 3000 frames lost');
});

test('names what is wrong', async () => {
	await expect(run({source: bad, mark: 'button-7'})).rejects.toThrow(
		/no channel is called "button-7"; there are counter/,
	);
	await expect(run({source: bad, window: 0.2})).rejects.toThrow(/a second at least/);
	await expect(run({source: '-', other: '-'})).rejects.toThrow(/one of the two only/);
	await expect(run({source: 'recordings/wrong-baud.gbrec'})).rejects.toThrow(/had no frame in it/);
});
