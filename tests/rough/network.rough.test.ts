import {execFileSync, spawn} from 'node:child_process';
import {once} from 'node:events';
import {readFileSync} from 'node:fs';
import {mkdtemp, rm} from 'node:fs/promises';
import {type AddressInfo, connect, createServer, type Socket} from 'node:net';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {setTimeout as wait} from 'node:timers/promises';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {openSource} from '../../source/sources/open-source.ts';
import {residentMib} from '../bench/process-watch.ts';
import {runCli, startCli} from '../cli/run-cli.ts';
import {glovebench, type ProgramOnScreen} from '../screen/program-on-screen.ts';
import {bytesOf, eventsOf, readAll} from '../sources/reading.ts';
import {NumberedGlove, numbersIn} from './numbered-glove.ts';
import {isRoot, measured, tally, tries, within} from './tries.ts';

let folder: string;
const gloves: NumberedGlove[] = [];
const programs: ProgramOnScreen[] = [];
const children: {kill(signal: NodeJS.Signals): unknown}[] = [];

beforeAll(async () => {
	folder = await mkdtemp(join(tmpdir(), 'network-'));
});

afterAll(async () => {
	for (const program of programs) program.dispose();
	for (const child of children) child.kill('SIGKILL');
	for (const glove of gloves) glove.close();
	await rm(folder, {recursive: true, force: true});
});

const makeGlove = (everyMs: number): NumberedGlove => {
	const glove = new NumberedGlove(everyMs);
	gloves.push(glove);
	return glove;
};

const start = (args: readonly string[]): ProgramOnScreen => {
	const program = glovebench(args, {cwd: folder});
	programs.push(program);
	return program;
};

/** `simulate --listen 0 …`, and where it listens. */
async function simulator(...options: readonly string[]) {
	const child = startCli(['simulate', '--listen', '0', ...options], {stdio: ['ignore', 'ignore', 'pipe']});
	children.push(child);
	let talk = '';
	child.stderr!.on('data', text => {
		talk += text;
	});
	while (!/tcp:\/\/\S+:\d+/.test(talk)) await once(child.stderr!, 'data');
	return {child, port: Number(/tcp:\/\/\S+:(\d+)/.exec(talk)![1]), talk: () => talk};
}

/** The addresses a port is listened on, from the system itself (Linux). */
const listeners = (port: number): string[] =>
	['tcp', 'tcp6'].flatMap(table =>
		readFileSync(`/proc/net/${table}`, 'utf8')
			.split('\n')
			.map(line => line.trim().split(/\s+/))
			// State 0A: listening.
			.filter(
				fields => fields[3] === '0A' && fields[1].endsWith(`:${port.toString(16).toUpperCase().padStart(4, '0')}`),
			)
			.map(fields => fields[1].split(':')[0]),
	);

describe.concurrent('simulate --listen', () => {
	it.skipIf(process.platform !== 'linux')('can be reached from this computer alone', async () => {
		const {port} = await simulator();
		// 127.0.0.1, as the table writes it (proc_pid_net(5): little-endian hexadecimal).
		expect(listeners(port)).toEqual(['0100007F']);
		tally('listeners looked up');
	});
	it.skipIf(process.platform !== 'linux')('can be reached from others only where it is told', async () => {
		const {port, talk} = await simulator('--host', '0.0.0.0');
		expect(listeners(port)).toEqual(['00000000']);
		expect(talk()).toContain(`tcp://0.0.0.0:${port}`);
		tally('listeners looked up');
	});
	it('says what is no address of this machine, and that --host wants --listen', async () => {
		// 192.0.2.0/24 is for documentation (RFC 5737): no machine has it.
		const there = await runCli(['simulate', '--listen', '0', '--host', '192.0.2.7']);
		expect(there.status).toBe(2);
		expect(there.stderr).toBe(
			'glovebench: Cannot listen on 192.0.2.7: that is no address of this machine. Leave out --host to serve this machine only.\n',
		);
		const alone = await runCli(['simulate', '--host', '::1']);
		expect(alone.status).toBe(2);
		expect(alone.stderr).toContain('--host says where to listen');
	});

	it('serves one reader at full pace while others read nothing, leave or talk back', async () => {
		const {child, port, talk} = await simulator('--rate', '1000', '--format', 'json');
		const idle = Array.from({length: 3}, () =>
			connect(port, '127.0.0.1')
				.pause()
				.on('error', () => {}),
		);
		// It talks, and reads nothing either.
		const rude = connect(port, '127.0.0.1').on('error', () => {});
		const talker = setInterval(() => rude.write(Buffer.alloc(65_536, 'x')), 20);
		const reader = connect(port, '127.0.0.1');
		let lines = 0;
		reader.on('data', bytes => {
			for (const byte of bytes) if (byte === 10) lines++;
		});
		await once(reader, 'connect');
		await wait(500);
		// 117 kB/s: the system takes up to 4 MB for each reader that reads nothing, then a MiB waits here.
		const seconds = tries(1.5, 75);
		const memory = residentMib(child.pid!);
		const from = lines;
		const began = performance.now();
		for (let second = 0; second < seconds; second++) {
			connect(port, '127.0.0.1')
				.on('error', () => {})
				.once('data', function (this: Socket) {
					this.resetAndDestroy();
				});
			await wait(1000 * Math.min(1, seconds - second));
		}

		const rate = (lines - from) / ((performance.now() - began) / 1000);
		// A busy machine delivers late, but delivers: a tenth is room enough for that.
		expect(rate).toBeGreaterThan(900);
		// Four backlogs of 1 MiB, and what Node needs for itself.
		expect(residentMib(child.pid!) - memory).toBeLessThan(60);
		measured(
			'MiB more of a simulator with four readers that read nothing',
			Math.ceil(residentMib(child.pid!) - memory),
		);
		clearInterval(talker);
		for (const socket of [...idle, rude, reader]) socket.destroy();
		if (seconds >= 75) {
			await wait(300);
			expect(talk().match(/reads too slowly/g)).toHaveLength(4);
			expect(talk().match(/has left; \d+ bytes were left out for it/g)).toHaveLength(4);
		}

		child.kill('SIGINT');
		expect((await once(child, 'exit'))[0]).toBe(130);
		tally('readers served at once', 5);
	}, 120_000);
});

describe.concurrent('a glove on the network', () => {
	it('that cuts its connection again and again is taken up each time, and recorded without a gap', async () => {
		const glove = makeGlove(5);
		const address = await glove.listen();
		const program = start(['attach', address, '--record', 'cut-1.gbrec']);
		const recorder = start(['record', address, '-o', 'cut-2.gbrec', '--reattach']);
		await recorder.until(/[1-9][\d,]* bytes/);
		const rounds = tries(1, 25);
		for (let round = 0; round < rounds; round++) {
			await program.until(text => /thumb .*\d{3}/.test(text) && !/PORT GONE/.test(text));
			await wait(50);
			const before = glove.connections.length;
			glove.reset();
			await program.until(/PORT GONE for \d+ s/);
			while (glove.connections.length < before + 2) await glove.nextConnection();
			tally('connections reset', 2);
		}

		await program.until(text => !/PORT GONE/.test(text));
		await wait(300);
		program.send('q');
		recorder.kill('SIGINT');
		expect(await within(30_000, program.exited)).toBe(0);
		expect(await within(30_000, recorder.exited)).toBe(130);
		for (const name of ['cut-1.gbrec', 'cut-2.gbrec']) {
			const items = await readAll(await openSource(join(folder, name)));
			const events = eventsOf(items);
			expect(events.filter(event => event === 'port-lost')).toHaveLength(rounds);
			expect(events.filter(event => event === 'reattached')).toHaveLength(rounds);
			// Each connection counts from 0 again, and none of its numbers is missing.
			let expected = 0;
			for (const n of numbersIn(bytesOf(items).toString())) {
				if (n !== 0 || expected === 0) expect(n).toBe(expected);
				expected = n + 1;
			}
		}
	}, 300_000);

	it('that stays connected and says nothing is named as silent', async () => {
		const server = createServer(() => {}).listen(0, '127.0.0.1');
		await once(server, 'listening');
		const address = `tcp://127.0.0.1:${(server.address() as AddressInfo).port}`;
		const {status, stdout} = await runCli(['check', address, '--for', '3200ms', '--json']);
		expect(status).toBe(1);
		expect(JSON.parse(stdout).findings.map(({code}: {code: string}) => code)).toEqual(['silent']);
		server.close();
		tally('silent peers');
	}, 120_000);

	it('is found by an IPv6 address', async context => {
		const glove = makeGlove(5);
		const address = await glove.listen('::1').catch(() => undefined);
		if (address === undefined) return context.skip();
		const {status, stderr} = await runCli(['record', address, '-o', join(folder, 'six.gbrec'), '--for', '300ms']);
		expect(status).toBe(0);
		expect(stderr).toMatch(/^Recording tcp:\/\/\[::1\]:\d+ into /);
		tally('IPv6');
	}, 120_000);

	it.each([
		['tcp://127.0.0.1:1', /refuses the connection/],
		['tcp://[::1]:1', /refuses the connection|cannot be reached/],
		['tcp://glove.invalid:3333', /The name glove\.invalid cannot be resolved/],
		['tcp://127.0.0.1:0', /is no address: it takes tcp:\/\/host:port with a port from 1 to 65535/],
		['tcp://127.0.0.1:65536', /is no address/],
		['tcp://127.0.0.1', /is no address/],
		['tcp://::1:3333', /is no address/],
		['tcp://', /is no address/],
	])('that is not there is named in one line: %s', async (address, words) => {
		const error = await openSource(address).catch((error: Error) => error);
		expect((error as Error).message).toMatch(words);
		expect((error as Error).message).not.toMatch(/\n/);
		tally('addresses refused');
	});
});

/** A network of one cable, whose far end can be made to say nothing at all any more. */
const canHaveNetwork = (): boolean => {
	try {
		execFileSync('ip', ['netns', 'list'], {stdio: 'ignore'});
		return isRoot;
	} catch {
		return false;
	}
};

// The far end answers nothing, not even that it is gone: it takes the system 20 s to give up.
describe.skipIf(tries(0, 1) === 0 || !canHaveNetwork())('a glove that is switched off without a word', () => {
	it('is told to be gone within half a minute', async () => {
		const space = `rough${process.pid}`;
		const ip = (...args: readonly string[]) => execFileSync('ip', args);
		try {
			// A net for documentation (RFC 5737): nobody's.
			ip('netns', 'add', space);
			ip('link', 'add', 'rough0', 'type', 'veth', 'peer', 'name', 'rough1', 'netns', space);
			ip('addr', 'add', '198.51.100.1/24', 'dev', 'rough0');
			ip('link', 'set', 'rough0', 'up');
			ip('-n', space, 'addr', 'add', '198.51.100.2/24', 'dev', 'rough1');
			ip('-n', space, 'link', 'set', 'rough1', 'up');
			const serve = `require('net').createServer(s => { s.on('error', () => {}); setInterval(() => s.write('1,512,498,473\\n'), 10); }).listen(3333, () => console.log('up'))`;
			const far = spawn('ip', ['netns', 'exec', space, process.execPath, '-e', serve]);
			children.push(far);
			await once(far.stdout, 'data');
			const program = start(['record', 'tcp://198.51.100.2:3333', '-o', 'gone.gbrec']);
			await program.until(/[1-9][\d,]* bytes/);
			const offAtMs = performance.now();
			// Its address is gone, and with it every answer.
			ip('-n', space, 'addr', 'flush', 'dev', 'rough1');
			expect(await within(60_000, program.exited)).toBe(0);
			expect(program.raw).toMatch(/broke \(the other side (does not answer|cannot be reached) any more\)/);
			measured('s until a half-open connection is told', Math.round((performance.now() - offAtMs) / 1000));
			tally('half-open connections');
		} finally {
			execFileSync('ip', ['link', 'del', 'rough0'], {stdio: 'ignore'});
			execFileSync('ip', ['netns', 'del', space], {stdio: 'ignore'});
		}
	}, 120_000);
});
