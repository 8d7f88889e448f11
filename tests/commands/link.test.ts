import {mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {PassThrough} from 'node:stream';
import {afterAll, beforeAll, expect, test} from 'vitest';
import {type LinkOptions, linkCommand} from '../../source/commands/link.ts';

let folder: string;
let good: string;
let bad: string;
beforeAll(() => {
	folder = mkdtempSync(path.join(tmpdir(), 'glovebench-link-'));
	const walk = (loses: (n: number) => boolean): string =>
		Array.from({length: 3000}, (_, n) => {
			const bend = Math.round(400 + 200 * Math.sin(n / 40));
			const pressed = n === 800 || n === 801 || n === 2000 || n === 2001 ? 0 : 1;
			return loses(n)
				? ''
				: `${(n / 100 + (n % 7) * 0.001).toFixed(4)} ${n},${10 * n},${bend},${bend + 9},${bend + 5},${bend + 40},${bend + 22},511,${510 + ((n * n) % 3)},${pressed}\n`;
		}).join('');
	good = path.join(folder, 'cable.log');
	bad = path.join(folder, 'radio.log');
	writeFileSync(
		good,
		walk(() => false),
	);
	writeFileSync(
		bad,
		walk(n => n > 1000 && n < 1900 && n % 10 === 0),
	);
});
afterAll(() => rmSync(folder, {recursive: true}));

async function run(options: LinkOptions, stdin = new PassThrough()) {
	const stdout = new PassThrough();
	const stderr = new PassThrough();
	let out = '';
	let talk = '';
	stdout.on('data', data => void (out += data));
	stderr.on('data', data => void (talk += data));
	const status = await linkCommand(options, {stdin, stdout, stderr, signal: new AbortController().signal});
	await new Promise(resolve => setImmediate(resolve));
	return {status, out, talk};
}

test('a table from press to press, in 80 columns, the radio beside the cable', async () => {
	const {status, out} = await run({source: bad, other: good});
	expect(status).toBe(1);
	expect(out).toMatch(/^.*radio\.log: BAD: 89 of 3000 frames lost \(2\.97 %\)/);
	expect(out).toContain('Marks by button-1: 2');
	expect(out).toMatch(/^1: 8-20 s +1111 +7\.42 /m);
	expect(out).toMatch(/^side by side/m);
	expect(out.split('\n').filter(line => line.length > 80)).toEqual([]);
});

test('a sound link is status 0, by time where nothing marks', async () => {
	const {status, out} = await run({source: good, window: 15, mark: 'button-1', ascii: true});
	expect(status).toBe(0);
	expect(out).toMatch(/GOOD: 0 of 3000 frames lost/);
	expect(out).toMatch(/^[\x20-\x7e\n]*$/);
});

test('writes a page with charts and the same figures', async () => {
	const page = path.join(folder, 'walk.html');
	await run({source: bad, other: good, html: page});
	const text = readFileSync(page, 'utf8');
	expect(text).toContain('89 of 3000 frames lost');
	expect(text).toContain('aria-label="Frames lost, % over time"');
	expect(text).not.toContain('<script');
});

test('reads a pipe as it comes', async () => {
	const stdin = new PassThrough();
	stdin.end(readFileSync(bad));
	const {out} = await run({source: '-'}, stdin);
	expect(out).toContain('89 of 3000 frames lost');
});

test('names what is wrong', async () => {
	await expect(run({source: bad, mark: 'button-7'})).rejects.toThrow(
		/no channel is called "button-7"; there are counter/,
	);
	await expect(run({source: bad, window: 0.2})).rejects.toThrow(/a second at least/);
	await expect(run({source: '-', other: '-'})).rejects.toThrow(/one of the two only/);
	await expect(run({source: 'recordings/wrong-baud.gbrec'})).rejects.toThrow(/had no frame in it/);
});
