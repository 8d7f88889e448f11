import {existsSync, readdirSync} from 'node:fs';
import {join} from 'node:path';
import {setTimeout as wait} from 'node:timers/promises';
import {afterAll, describe, expect, it} from 'vitest';
import {Random} from '../../source/simulator/random.ts';
import {openSource} from '../../source/sources/open-source.ts';
import {glovebench, type ProgramOnScreen} from '../screen/program-on-screen.ts';
import {bytesOf, eventsOf, readAll} from '../sources/reading.ts';
import {numbersIn} from './numbered-glove.ts';
import {RoughPort} from './rough-port.ts';
import {tally, tries, within} from './tries.ts';

const ports: RoughPort[] = [];
const programs: ProgramOnScreen[] = [];
afterAll(async () => {
	for (const program of programs.splice(0)) program.dispose();
	await Promise.all(ports.splice(0).map(port => port.remove()));
});

const makePort = (): RoughPort => {
	const port = new RoughPort();
	ports.push(port);
	return port;
};

const start = (args: readonly string[], cwd: string): ProgramOnScreen => {
	const program = glovebench(args, {cwd});
	programs.push(program);
	return program;
};

const bars = /thumb +\S*[[░█]/;
const gone = /PORT GONE for \d+ s/;

/** Leaves, and looks whether the terminal is as it was. */
async function leave(program: ProgramOnScreen): Promise<void> {
	program.send('q');
	expect(await within(30_000, program.exited)).toBe(0);
	expect(program.onAlternateScreen).toBe(false);
	expect(program.cursorShown).toBe(true);
}

/** Numbers that rise by one within each plugging: between two of them, what was on its way is lost with the cable. */
function expectNoGaps(numbers: readonly number[], pluggings: number): void {
	const jumps = numbers.filter((n, index) => index > 0 && n !== numbers[index - 1] + 1);
	expect(jumps.length).toBeLessThan(pluggings);
	expect(numbers).toEqual([...numbers].sort((a, b) => a - b));
}

/** What a person may be doing when the cable slips out: how to get there, and how to see that it goes on again. */
const states = [
	{state: 'waiting for the first line', streams: false, keys: '', back: ''},
	{state: 'streaming', streams: true, keys: '', back: ''},
	{state: 'held', streams: true, keys: ' ', back: ' '},
	{state: 'in the findings', streams: true, keys: 'f', back: 'o'},
	{state: 'typing a mark', streams: true, keys: 'm', back: '\u001B'},
] as const;

describe.skipIf(process.platform === 'win32').concurrent('a cable that slips out and is put back', () => {
	it('is told and got over in every state of attach, and recorded without a gap', async () => {
		const port = makePort();
		await port.plugIn();
		const recording = join(port.folder, 'a.gbrec');
		const program = start(['attach', port.path, '--record', recording], port.folder);
		await program.until('nothing received yet');
		const rounds = tries(1, 20);
		let descriptors = 0;
		for (let round = 0; round < rounds; round++) {
			for (const {state, streams, keys, back} of states) {
				if (streams) {
					port.stream(5);
					await program.until(text => bars.test(text) && !gone.test(text));
				}

				if (keys) program.send(keys);
				await wait(30);
				await port.unplug();
				await program.until(gone);
				await port.plugIn();
				await program.until(text => !gone.test(text));
				if (back) program.send(back);
				// Escape and a letter right after it would be one key.
				await program.until('keys  q quit');
				tally(`unplugged while ${state}`);
			}

			// Nothing of a port stays open once it has gone.
			const open = readdirSync(`/proc/${program.pid}/fd`).length;
			if (round === 0) descriptors = open;
			expect(open).toBeLessThanOrEqual(descriptors + 1);
		}

		port.stream(5);
		await program.until(bars);
		await leave(program);
		const items = await readAll(await openSource(recording));
		const pluggings = 1 + rounds * states.length;
		expect(eventsOf(items).filter(event => event === 'port-lost')).toHaveLength(pluggings - 1);
		expect(eventsOf(items).filter(event => event === 'reattached')).toHaveLength(pluggings - 1);
		const numbers = numbersIn(bytesOf(items).toString());
		expect(numbers.length).toBeGreaterThan(rounds * 4);
		expectNoGaps(numbers, pluggings);
	}, 300_000);

	it('at the moment of opening gives the view or one line, never a broken screen', async () => {
		for (let index = 0; index < tries(2, 20); index++) {
			const port = makePort();
			await port.plugIn();
			const program = start(['attach', port.path], port.folder);
			await wait(new Random(500 + index).uniform(0, 600));
			await port.unplug();
			const seen = await Promise.race([
				program.exited,
				program.until(gone).then(
					() => 'gone' as const,
					() => program.exited,
				),
			]);
			if (seen === 'gone') {
				await port.plugIn();
				await program.until(text => !gone.test(text));
				port.stream(5);
				await program.until(bars);
				await leave(program);
			} else {
				expect(seen).toBe(2);
				expect(program.text).toMatch(
					/^glovebench: .*glove.*(is not there|cannot be read|no such port|does not answer)/,
				);
				expect(program.raw).not.toContain('\u001B[?1049h');
			}

			tally('unplugged while opening');
		}
	}, 120_000);

	it('at the moment of leaving neither holds it up nor breaks the recording', async () => {
		for (let index = 0; index < tries(1, 20); index++) {
			const port = makePort();
			await port.plugIn();
			const recording = join(port.folder, 'a.gbrec');
			const program = start(['attach', port.path, '--record', recording], port.folder);
			await program.until('nothing received yet');
			port.stream(3);
			await program.until(bars);
			const early = new Random(700 + index).uniform(-15, 15);
			const pulled = wait(Math.max(0, early)).then(() => port.unplug());
			await wait(Math.max(0, -early));
			await leave(program);
			await pulled;
			const items = await readAll(await openSource(recording));
			expect(eventsOf(items)).not.toContain('truncated');
			expectNoGaps(numbersIn(bytesOf(items).toString()), 1);
			tally('unplugged while leaving');
		}
	}, 120_000);

	it('ends record in order, and with --reattach goes on in the same file', async () => {
		const port = makePort();
		await port.plugIn();
		const once = start(['record', port.path, '-o', 'once.gbrec'], port.folder);
		await once.until('restarts');
		port.stream(5);
		await once.until(/[1-9]\d* bytes/);
		await port.unplug();
		expect(await within(30_000, once.exited)).toBe(0);
		expect(once.text).toMatch(/is gone.*Recorded [\d.]+ s and [\d,]+ bytes into once\.gbrec\./s);

		await port.plugIn();
		const rounds = tries(1, 20);
		const again = start(['record', port.path, '-o', 'again.gbrec', '--reattach'], port.folder);
		await again.until('restarts');
		for (let round = 0; round < rounds; round++) {
			const path = join(port.folder, 'again.gbrec');
			const from = port.sentLines;
			port.stream(5);
			while (port.sentLines < from + 8) await wait(10);
			await port.unplug();
			await lines(path, event => event === 'port-lost', round + 1);
			await port.plugIn();
			await lines(path, event => event === 'reattached', round + 1);
			tally('unplugged while record --reattach runs');
		}

		again.kill('SIGINT');
		expect(await within(30_000, again.exited)).toBe(130);
		const items = await readAll(await openSource(join(port.folder, 'again.gbrec')));
		expect(eventsOf(items)).not.toContain('truncated');
		expectNoGaps(numbersIn(bytesOf(items).toString()), rounds + 1);
	}, 120_000);

	it('is waited for by bringup, which leaves with what was done and gives the terminal back', async () => {
		for (let index = 0; index < tries(1, 20); index++) {
			const port = makePort();
			await port.plugIn();
			const program = start(['bringup', port.path, '--record', 'b.gbrec'], port.folder);
			await program.until(/bring-up|glove/i);
			port.stream(5);
			await wait(new Random(900 + index).uniform(100, 900));
			await port.unplug();
			// Before the port was open it ends by itself.
			const left = program.exited.then(() => true);
			if (!(await Promise.race([left, program.until('PORT GONE').then(() => false)]))) program.send('q');
			const status = await within(30_000, program.exited);
			expect([1, 2]).toContain(status);
			expect(program.cursorShown).toBe(true);
			expect(program.raw).toMatch(/is not there|no such port|does not answer|PORT GONE|no frame in it/);
			if (existsSync(join(port.folder, 'b.gbrec'))) {
				const items = await readAll(await openSource(join(port.folder, 'b.gbrec')));
				expect(eventsOf(items)).not.toContain('truncated');
				expect(eventsOf(items)).toContain('port-lost');
			}

			tally('unplugged during bringup');
		}
	}, 120_000);
});

/** Waits until a recording holds so many events of a kind. */
async function lines(path: string, wanted: (event: string) => boolean, count: number): Promise<void> {
	for (let look = 0; look < 500; look++) {
		const events = eventsOf(await readAll(await openSource(path)));
		if (events.filter(wanted).length >= count) return;
		await wait(20);
	}

	throw new Error(`${path} never held ${count} of the events.`);
}
