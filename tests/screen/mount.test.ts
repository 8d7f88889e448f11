import {type AddressInfo, createServer, type Server, type Socket} from 'node:net';
import {afterEach, describe, expect, it} from 'vitest';
import {drawTrial, errorsOf, trialText} from '../mount/trial.ts';
import {expectGolden, glovebench, type ProgramOnScreen} from './program-on-screen.ts';

const trial = drawTrial({seed: 21, rate: 30, pivotSeconds: 20});
const lines = trialText(trial).split('\n');
let program: ProgramOnScreen;
let server: Server;
const sockets = new Set<Socket>();

/** A tracking program on the network, which sends poses as it is told to. */
async function track(): Promise<{port: number; send: (upTo: number) => void}> {
	let sent = 0;
	server = createServer(socket => {
		sockets.add(socket);
		socket.on('error', () => {}).on('close', () => sockets.delete(socket));
	}).listen(0, '127.0.0.1');
	await new Promise(resolve => server.once('listening', resolve));
	return {
		port: (server.address() as AddressInfo).port,
		send(upTo) {
			const text = lines.slice(sent, upTo).join('\n');
			sent = upTo;
			for (const socket of sockets) socket.write(`${text}\n`);
		},
	};
}

afterEach(() => {
	program.dispose();
	for (const socket of sockets) socket.destroy();
	server.close();
});

/** Number of the line after so many seconds of the log. */
const lineAt = (t: number) => lines.findIndex((line, i) => i > 0 && Number(line.split(',')[0]) > t);

describe('mount on poses that come over the network', () => {
	it('leads from step to step to DONE, and leaves the numbers on the terminal', async () => {
		const {port, send} = await track();
		program = glovebench(['mount', `tcp://127.0.0.1:${port}`, '--bell']);
		await program.until('0 of 7 done');
		await program.until(() => sockets.size === 1);
		send(lineAt(trial.steps[0].to + 0.3));
		await program.until(/1 of 7 done +NEXT/);
		program.send('j');
		await program.until('j does nothing here. x skip');
		program.send('x');
		await program.until(/2 of 7 done +NEXT +Let the fingers point straight down/);
		program.send('u');
		await program.until(text => /1 of 7 done/.test(text) && !text.includes('does nothing'));
		send(lineAt(trial.steps[5].to + 0.3));
		await program.until('6 of 7 done');
		expect(program.text).toMatch(/rotation known to \d\.\d°/);
		send(lines.length);
		await program.until(/7 of 7 done +DONE/);
		await program.until(/point known to \d\.\d mm/);
		// The port is another one each time, and so is the rate at which the log was handed over.
		expectGolden(program, 'mount-80x24', text => text.replace(/127\.0\.0\.1:\d{5}(?: +\d+\/s)?/, '127.0.0.1:44444'));
		expect(program.raw).toContain('\u0007');
		program.send('q');
		expect(await program.exited).toBe(0);
		const [, ...position] = /position +x (-?[\d.]+) ±[\d.]+ +y (-?[\d.]+) ±[\d.]+ +z (-?[\d.]+)/.exec(program.raw)!;
		expect(errorsOf(trial, null, position.map(Number)).mm).toBeLessThan(6);
	});

	it('ends with 130 after ctrl-c', async () => {
		const {port} = await track();
		program = glovebench(['mount', `tcp://127.0.0.1:${port}`]);
		await program.until('0 of 7 done');
		program.send('\u0003');
		expect(await program.exited).toBe(130);
	});
});
