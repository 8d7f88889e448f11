import {mkdtemp, readFile, rm} from 'node:fs/promises';
import {connect, createServer} from 'node:net';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {PassThrough} from 'node:stream';
import {afterAll, beforeAll, describe, expect, test} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {commandFor, type SimulateOptions, simulateCommand} from '../../source/commands/simulate.ts';

let folder: string;
beforeAll(async () => {
	folder = await mkdtemp(join(tmpdir(), 'simulate-'));
});
afterAll(() => rm(folder, {recursive: true}));

async function run(options: SimulateOptions): Promise<{status: number; out: string; talk: string}> {
	const stdout = new PassThrough();
	const stderr = new PassThrough();
	const out: Buffer[] = [];
	const talk: Buffer[] = [];
	stdout.on('data', data => out.push(data));
	stderr.on('data', data => talk.push(data));
	const status = await simulateCommand(options, {stdout, stderr, signal: new AbortController().signal});
	await new Promise(resolve => setImmediate(resolve));
	return {status, out: Buffer.concat(out).toString('latin1'), talk: Buffer.concat(talk).toString()};
}

describe('simulate', () => {
	test('prints frames to standard output and nothing else', async () => {
		const {status, out} = await run({fast: true, for: 2});
		expect(status).toBe(0);
		const lines = out.split('\r\n').slice(0, -1);
		expect(lines.length).toBeGreaterThan(195);
		expect(lines.every(line => /^\d+(,\d+){6}(,[01]){2}$/.test(line))).toBe(true);
	});

	test('gives the same output for the same seed and another for another', async () => {
		const [one, again, other] = await Promise.all([
			run({fast: true, for: 1}),
			run({fast: true, for: 1}),
			run({fast: true, for: 1, seed: 2}),
		]);
		expect(one.out).toBe(again.out);
		expect(one.out).not.toBe(other.out);
	});

	test('stamps every line with its time when asked', async () => {
		const {out} = await run({fast: true, for: 1, stamp: true, rate: 50});
		const lines = out.split('\r\n').slice(0, -1);
		expect(lines.every(line => /^0\.\d{3} \d+(,\d+){8}$/.test(line))).toBe(true);
		const times = lines.map(line => Number(line.split(' ')[0]));
		expect(times.every((t, i) => i === 0 || (t > times[i - 1] && t - times[i - 1] < 0.03))).toBe(true);
	});

	test('writes a recording whose note is the command that makes it again', async () => {
		const path = join(folder, 'glove.gbrec');
		await run({output: path, for: 2, fault: ['dropout:ring@0.5-1.5*1'], rate: 60});
		const lines = (await readFile(path, 'utf8'))
			.trim()
			.split('\n')
			.map(line => JSON.parse(line));
		expect(lines[0]).toMatchObject({glovebench: 1, source: {kind: 'simulator'}, link: {baud: 115200}});
		expect(lines[0].note).toBe("glovebench simulate --seed 1 --rate 60 --fault 'dropout:ring@0.5-1.5*1' --for 2s");
		expect(lines[lines.length - 1]).toMatchObject({end: true, t: 2});
		const again = join(folder, 'again.gbrec');
		await run({output: again, for: 2, fault: ['dropout:ring@0.5-1.5*1'], rate: 60});
		expect(await readFile(again)).toEqual(await readFile(path));
	});

	test('notes the firmware in the command that makes the recording again', async () => {
		const path = join(folder, 'learning.gbrec');
		await run({output: path, for: 1, firmware: 'learns/glitch', script: 'posture 20s'});
		const [first] = (await readFile(path, 'latin1')).split('\n');
		expect(JSON.parse(first).note).toBe(
			"glovebench simulate --seed 1 --firmware learns/glitch --script 'posture 20s' --for 1s",
		);
	});

	test('writes a plain log under any other name, and keeps a file that is there', async () => {
		const path = join(folder, 'glove.txt');
		await run({output: path, for: 1});
		expect((await readFile(path, 'latin1')).split('\r\n')[3]).toMatch(/^\d+(,\d+){8}$/);
		await expect(run({output: path, for: 1})).rejects.toThrow(/already there.*--force/);
		await expect(run({output: join(folder, 'no', 'glove.txt')})).rejects.toThrow(CannotError);
		expect((await run({output: path, for: 1, force: true})).status).toBe(0);
	});

	test('serves every client on the loopback until it is stopped', async () => {
		const stop = new AbortController();
		const stderr = new PassThrough();
		const told = new Promise<string>(resolve => stderr.once('data', data => resolve(String(data))));
		const done = simulateCommand({listen: 0}, {stdout: new PassThrough(), stderr, signal: stop.signal});
		const port = Number(/tcp:\/\/127\.0\.0\.1:(\d+)/.exec(await told)![1]);
		const line = (): Promise<string> =>
			new Promise((resolve, reject) => {
				let text = '';
				const socket = connect(port, '127.0.0.1');
				socket.on('error', reject);
				socket.on('data', data => {
					text += data;
					const lines = text.split('\r\n');
					if (lines.length > 2) {
						socket.destroy();
						resolve(lines[1]);
					}
				});
			});
		for (const got of await Promise.all([line(), line()])) expect(got).toMatch(/^\d+(,\d+){8}$/);
		stop.abort();
		expect(await done).toBe(0);
	});

	test('says which port is taken and what to try', async () => {
		const holder = createServer().listen(0, '127.0.0.1');
		await new Promise(resolve => holder.once('listening', resolve));
		const {port} = holder.address() as {port: number};
		await expect(run({listen: port})).rejects.toThrow(new RegExp(`port ${port}: another program uses it.*or 0`));
		holder.close();
	});

	test('takes the layout, the format, the board and the script it is given', async () => {
		const {out} = await run({
			fast: true,
			for: 1,
			layout: 'counter,index,middle,ring,button-1',
			format: 'labels',
			board: 'esp32',
			script: 'rest 1s',
		});
		expect(out.split('\r\n')[2]).toMatch(/^counter:\d+,index:\d+,middle:\d+,ring:\d+,button-1:[01]$/);
		const json = await run({fast: true, for: 1, format: 'json'});
		expect(Object.keys(JSON.parse(json.out.split('\n')[1]))).toContain('stick-x');
		const packets = await run({fast: true, for: 1, format: 'slip'});
		expect(packets.out.startsWith('\xc0')).toBe(true);
	});

	test.each<[SimulateOptions, RegExp]>([
		[{fault: ['dropuot']}, /"dropuot".*Did you mean dropout/],
		[{fault: ['dropout/gremlin']}, /"gremlin".*to-rail/],
		[{fault: ['dropout:toe']}, /"toe".*thumb, index/],
		[{fault: ['stall:ring']}, /leave out ":ring"/],
		[{fault: ['dropout@9-3']}, /must not end before it begins/],
		[{fault: ['dropout*9']}, /severity from -1/],
		[{fault: ['button-bounce'], layout: 'thumb,index,middle'}, /needs a button/],
		[{board: 'esp23'}, /Did you mean esp32/],
		[{format: 'morse'}, /comma, tab/],
		[{layout: 'stick-y,stick-x,thumb'}, /stick-x,stick-y/],
		[{script: 'dance 2x'}, /"dance 2x"/],
		[{stamp: true, format: 'cobs', fast: true}, /--stamp stamps lines of text/],
		[{output: 'x.gbrec', listen: 0}, /exclude each other/],
	])('refuses %j in one line that says what would do', async (options, message) => {
		const refusal = await run({for: 0.1, ...options}).catch(error => error);
		expect(refusal).toBeInstanceOf(CannotError);
		expect(refusal.message).toMatch(message);
		expect(refusal.message).not.toContain('\n');
	});
});

describe('commandFor', () => {
	test('quotes what a shell would take apart', () => {
		expect(commandFor({script: 'rest 2s, fist 3x', fault: ['stall', 'dropout:ring*0.5'], for: 20})).toBe(
			"glovebench simulate --seed 1 --script 'rest 2s, fist 3x' --fault stall --fault 'dropout:ring*0.5' --for 20s",
		);
	});
});
