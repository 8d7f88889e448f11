import {type ChildProcess, execFileSync} from 'node:child_process';
import {closeSync, openSync, readFileSync} from 'node:fs';
import {mkdtemp, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {createInterface} from 'node:readline';
import {setTimeout as wait} from 'node:timers/promises';
import {afterAll, describe, expect, it} from 'vitest';
import {openSource} from '../../source/sources/open-source.ts';
import {runCli, startCli} from '../cli/run-cli.ts';
import {glovebench, type ProgramOnScreen} from '../screen/program-on-screen.ts';
import {bytesOf, eventsOf, readAll} from '../sources/reading.ts';
import {numberedLine} from './numbered-glove.ts';
import {RoughPort} from './rough-port.ts';
import {inTurns, measured, tally, tries, within} from './tries.ts';

const ports: RoughPort[] = [];
const programs: ProgramOnScreen[] = [];
const children: ChildProcess[] = [];
const floods: string[] = [];
afterAll(async () => {
	for (const program of programs) program.dispose();
	for (const child of children) child.kill('SIGKILL');
	await Promise.all(ports.map(port => port.remove()));
	for (const folder of floods) await rm(folder, {recursive: true, force: true});
});

const plugIn = async (...args: readonly string[]): Promise<RoughPort> => {
	const port = new RoughPort();
	ports.push(port);
	await port.plugIn(...args);
	return port;
};

const start = (args: readonly string[], cwd: string): ProgramOnScreen => {
	const program = glovebench(args, {cwd});
	programs.push(program);
	return program;
};

/** Records what the device does, until a Ctrl-C, and gives what was kept. */
async function recordWhile(port: RoughPort, act: () => Promise<void>, expectBytes: number): Promise<Buffer> {
	const program = start(['record', port.path, '-o', 'kept.gbrec'], port.folder);
	await program.until('restarts');
	await act();
	const path = join(port.folder, 'kept.gbrec');
	await program.until(text => Number(/([\d,]+) bytes/.exec(text)?.[1].replaceAll(',', '') ?? 0) >= expectBytes, 60_000);
	program.kill('SIGINT');
	expect(await within(30_000, program.exited)).toBe(130);
	return bytesOf(await readAll(await openSource(path)));
}

/** Numbered lines, so many megabytes of them, on a port of their own. */
async function startFlood(megabytes: number, ...options: readonly string[]) {
	const folder = await mkdtemp(join(tmpdir(), 'flood-'));
	floods.push(folder);
	const lines: string[] = [];
	for (let bytes = 0, n = 0; bytes < megabytes * 1e6; n++) bytes += lines[lines.push(numberedLine(n)) - 1].length;
	const data = Buffer.from(lines.join(''));
	const file = join(folder, 'lines.txt');
	await writeFile(file, data);
	const port = await plugIn(file, ...options);
	return {folder, port: port.path, data, begin: () => port.send('go\n')};
}

/** The most memory a process ever had, MiB (Linux). */
const peakMiB = (pid: number): number =>
	Number(/VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]) / 1024;

const isLinux = process.platform === 'linux';

describe.skipIf(process.platform === 'win32').concurrent('a device', () => {
	it('that floods the line loses nothing here and fills no memory', async () => {
		// 10 MB/s and more, as fast as the pseudo-terminal takes it.
		const megabytes = tries(2, 100);
		const flood = await startFlood(megabytes);
		const program = start(['record', flood.port, '-o', 'flood.gbrec'], flood.folder);
		await program.until('restarts');
		const began = performance.now();
		flood.begin();
		const {byteLength} = flood.data;
		await program.until(text => text.includes(`${byteLength.toLocaleString('en')} bytes`), 60_000);
		const seconds = (performance.now() - began) / 1000;
		// Node itself takes 60 MiB; a recorder holds what arrives between two writes, a fifth of a second apart.
		if (isLinux) {
			measured('MiB of the flooded recorder at most', Math.round(peakMiB(program.pid)));
			expect(peakMiB(program.pid)).toBeLessThan(250);
		}

		program.kill('SIGINT');
		expect(await within(30_000, program.exited)).toBe(130);
		const kept = bytesOf(await readAll(await openSource(join(flood.folder, 'flood.gbrec'))));
		expect(kept.equals(flood.data)).toBe(true);
		tally('MB of flood recorded, none lost', megabytes);
		measured('MB/s of the flood recorded (its end is told within a second)', Math.floor(megabytes / seconds));
	}, 120_000);

	it('that floods the line leaves the view its keys', async () => {
		const flood = await startFlood(1, '--forever');
		const program = start(['attach', flood.port], flood.folder);
		await program.until('nothing received yet');
		flood.begin();
		await program.until(/thumb .*\d{3}/);
		await wait(tries(200, 10_000));
		program.send('f');
		await program.until('open first');
		if (isLinux) {
			measured('MiB of the flooded view at most', Math.round(peakMiB(program.pid)));
			expect(peakMiB(program.pid)).toBeLessThan(400);
		}

		program.send('q');
		expect(await within(30_000, program.exited)).toBe(0);
		tally('floods of the view');
	}, 120_000);

	it('that sends every byte there is, in any mode the line was left in, is kept byte for byte', async () => {
		const port = await plugIn();
		// Flow control of both kinds, characters with a meaning, parity marks, bytes cut to seven bits.
		const flags = 'ixon ixoff ixany crtscts icanon isig echo icrnl inlcr istrip parmrk inpck opost';
		if (isLinux) execFileSync('stty', ['-F', port.path, ...flags.split(' ')]);
		const every = Buffer.from(Array.from({length: 256}, (_, byte) => byte));
		// XOFF first: a line that minds it would stand still from here on.
		const sent = Buffer.concat([Buffer.from([0x13, 0x03, 0x1a, 0x04]), every, every.toReversed(), Buffer.alloc(4096)]);
		let settings = '';
		const kept = await recordWhile(
			port,
			async () => {
				if (isLinux) settings = execFileSync('stty', ['-a', '-F', port.path], {encoding: 'utf8'});
				port.send(sent);
			},
			sent.byteLength,
		);
		expect(kept).toEqual(sent);
		if (isLinux) for (const flag of flags.split(' ')) expect(settings).toContain(`-${flag}`);
		tally('line settings left by others', flags.split(' ').length);
	}, 120_000);

	it('that breaks off in the middle of a character is kept to the last byte', async () => {
		const cuts = ['°', '€', '🧤'].flatMap(text => {
			const bytes = Buffer.from(text);
			return Array.from({length: bytes.byteLength - 1}, (_, index) => bytes.subarray(0, index + 1));
		});
		await inTurns(cuts.length, 3, async index => {
			const port = await plugIn();
			const program = start(['record', port.path, '-o', 'cut.gbrec'], port.folder);
			await program.until('restarts');
			const sent = Buffer.concat([Buffer.from('512,21 '), cuts[index]]);
			port.send(sent);
			const path = join(port.folder, 'cut.gbrec');
			while (bytesOf(await readAll(await openSource(path))).byteLength < sent.byteLength) await wait(20);
			await port.unplug();
			expect(await within(30_000, program.exited)).toBe(0);
			const items = await readAll(await openSource(path));
			expect(bytesOf(items)).toEqual(sent);
			expect(eventsOf(items)).not.toContain('truncated');
			tally('characters broken off');
		});
	}, 120_000);

	it('that sends nothing but zero bytes, or nothing, is named by check', async () => {
		// Silence alone is tried on a network connection too.
		const sends = [Buffer.alloc(200), undefined].slice(0, tries(1, 2));
		await inTurns(sends.length, 2, async index => {
			const sent = sends[index];
			const port = await plugIn();
			const child = startCli(['check', port.path, '--for', '3200ms', '--json'], {stdio: ['ignore', 'pipe', 'pipe']});
			const timer = setInterval(() => sent && port.send(sent), 50);
			let out = '';
			child.stdout!.on('data', text => {
				out += text;
			});
			const status = await new Promise(resolve => child.on('close', resolve));
			clearInterval(timer);
			expect(status).toBe(1);
			const codes = JSON.parse(out).findings.map(({code}: {code: string}) => code);
			expect(codes).toEqual([sent ? 'wrong-baud' : 'silent']);
			tally('devices that say nothing useful');
		});
	}, 120_000);

	it('that restarts while it is attached to, as a second program raising DTR makes it, is said to have', async () => {
		const port = await plugIn();
		const child = startCli(['check', port.path, '--follow', '--json'], {stdio: ['ignore', 'pipe', 'inherit']});
		children.push(child);
		const events = createInterface(child.stdout!)[Symbol.asyncIterator]();
		const until = async (
			wanted: (event: {event: string; t: number; finding?: {code: string}}) => boolean,
		): Promise<void> => {
			for (;;) {
				const {value, done} = await events.next();
				if (done) throw new Error('It ended first.');
				if (wanted(JSON.parse(value))) return;
			}
		};
		await until(({event}) => event === 'start');
		port.stream(10);
		// Opening a port restarts many boards: for three seconds that is expected.
		await until(({event, t}) => event === 'link' && t > 3);
		port.hush();
		await wait(600);
		// Some boot text after a pause, and the counter begins anew.
		port.send('ets Jun  8 2016 00:22:57\r\nrst:0x1 (POWERON_RESET),boot:0x13 (SPI_FAST_FLASH_BOOT)\r\nready\r\n');
		port.restart();
		port.stream(10);
		await until(({event, finding}) => event === 'finding-opened' && finding!.code === 'device-restart');
		child.kill('SIGINT');
		expect(await new Promise(resolve => child.on('exit', resolve))).toBe(130);
		tally('restarts while attached');
	}, 120_000);
});

describe.skipIf(process.platform === 'win32').concurrent('a port that cannot be had', () => {
	it('is refused in one line that says why, whatever stands in its place', async () => {
		const port = await plugIn();
		const holder = start(['record', port.path, '-o', 'held.gbrec'], port.folder);
		await holder.until('restarts');
		const cases: readonly (readonly [string, RegExp])[] = [
			['/dev/ttyUSB99', /there is no such port/],
			['/dev/null', /it is no serial port/],
			['/dev', /is a folder/],
			['/dev/shm', /it is no serial port/],
			[join(port.folder, 'missing'), /is not there/],
			[port.path, isLinux ? /\S+ \(process \d+\) is using it/ : /is using it/],
		];
		const runs = [
			...cases.map(([name, words]) => ({words, args: ['check', name, '--for', '1s']})),
			...cases.map(([name, words]) => ({words, args: ['record', name, '-o', join(port.folder, 'never.gbrec')]})),
		];
		const chosen = runs.slice(0, tries(1, 2) * cases.length);
		await inTurns(chosen.length, 3, async index => {
			const {words, args} = chosen[index];
			const {status, stdout, stderr} = await runCli(args);
			expect(stderr).toMatch(words);
			expect(stderr).toMatch(/^glovebench: [^\n]*\n$/);
			expect(stdout).toBe('');
			expect(status).toBe(2);
			tally('ports refused');
		});

		// The first one goes on undisturbed.
		port.send('512\n');
		await holder.until(/4 bytes/);
	}, 120_000);

	it('but which a program without a lock reads too, is opened, and the other is named', async () => {
		const port = await plugIn();
		const other = openSync(port.path, 'r');
		const program = start(['record', port.path, '-o', 'shared.gbrec'], port.folder);
		if (isLinux) await program.until(/\(process \d+\) has this port open too/);
		closeSync(other);
		tally('ports shared');
	});
});
