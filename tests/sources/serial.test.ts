import {EventEmitter} from 'node:events';
import {mkdtemp, rename, rm, symlink} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {afterEach, beforeEach, describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {RecordingWriter} from '../../source/recording/recording-writer.ts';
import {Session} from '../../source/session/session.ts';
import {openFile} from '../../source/sources/open-file.ts';
import type {PortDescription} from '../../source/sources/port-list.ts';
import {type OpenPort, openSerial, type SerialHost} from '../../source/sources/serial.ts';
import type {Source} from '../../source/stream/source.ts';
import {eventsOnOpening, openPseudoPort, type PseudoPort} from './pseudo-port.ts';
import {bytesOf, eventsOf, ItemReader, readAll} from './reading.ts';

let ports: PseudoPort[] = [];
let sources: Source[] = [];
const plugIn = (): PseudoPort => {
	const port = openPseudoPort();
	ports.push(port);
	return port;
};

const opened = async (opening: Promise<Source>): Promise<Source> => {
	const source = await opening;
	sources.push(source);
	return source;
};

afterEach(async () => {
	await Promise.all(sources.map(source => source.close()));
	await Promise.all(ports.map(port => port.unplug()));
	ports = [];
	sources = [];
});

describe.skipIf(process.platform === 'win32')('a serial port', () => {
	it('delivers what the board sends, byte for byte, with rising times and the dtr event first', async () => {
		const port = plugIn();
		const source = await opened(openSerial(port.path));
		const reader = new ItemReader(source);
		expect(await reader.event('dtr')).toMatchObject({t: 0});
		const every = Buffer.from(Array.from({length: 256}, (_, byte) => byte));
		port.send('512,498,473\r\n');
		await reader.text('473\r\n');
		port.send(every);
		await reader.next((_, soFar) => bytesOf(soFar).byteLength === 13 + 256);
		expect(bytesOf(reader.seen)).toEqual(Buffer.concat([Buffer.from('512,498,473\r\n'), every]));
		const times = reader.seen.map(item => item.t);
		expect(times).toEqual([...times].sort((a, b) => a - b));
		expect(source.now!()).toBeGreaterThanOrEqual(times.at(-1)!);
	});

	it('has times in whole microseconds, so that a recording of them is exact', async () => {
		const port = plugIn();
		const reader = new ItemReader(await opened(openSerial(port.path)));
		await reader.event('dtr');
		port.send('1\n');
		await reader.text('1\n');
		for (const {t} of reader.seen) expect(Math.round(t * 1e6) / 1e6).toBe(t);
	});

	// 250,000 is no rate of POSIX termios and takes another way through the driver.
	it.each([300, 9600, 115_200, 250_000, 1_000_000])('opens a pseudo-terminal at %i baud', async baud => {
		const port = plugIn();
		const source = await opened(openSerial(port.path, {baud}));
		expect(source.info).toEqual({kind: 'serial', name: port.path, timing: 'measured', baud});
		const reader = new ItemReader(source);
		await reader.event('dtr');
		port.send('512\n');
		await reader.text('512\n');
	});

	it('says that the port is lost when the cable is pulled, and ends', async () => {
		const port = plugIn();
		const reader = new ItemReader(await opened(openSerial(port.path)));
		await reader.event('dtr');
		port.send('512\n');
		await reader.text('512\n');
		await port.unplug();
		await reader.end();
		const lost = reader.seen.at(-1)!;
		expect(lost).toMatchObject({event: 'port-lost'});
		// It was open for well under two seconds.
		expect((lost as {detail: string}).detail).toMatch(/another service may have taken it/);
		expect((lost as {detail: string}).detail).not.toMatch(/\n/);
	});

	it('waits for the same name and goes on when told to reattach', async () => {
		const folder = await mkdtemp(join(tmpdir(), 'port-'));
		const name = join(folder, 'glove');
		const first = plugIn();
		await symlink(first.path, name);
		const reader = new ItemReader(await opened(openSerial(name, {reattach: true})));
		await reader.event('dtr');
		first.send('1,1\n');
		await reader.text('1,1\n');
		await first.unplug();
		await reader.event('port-lost');
		const second = plugIn();
		await symlink(second.path, `${name}.new`);
		await rename(`${name}.new`, name);
		await reader.event('reattached');
		second.send('2,2\n');
		await reader.text('2,2\n');
		await rm(folder, {recursive: true});
	});

	it('ends when it is aborted, when it is closed, and when its time is up', async () => {
		const port = plugIn();
		const abort = new AbortController();
		const aborted = await openSerial(port.path, {signal: abort.signal});
		const reading = readAll(aborted);
		abort.abort();
		expect(eventsOf(await reading)).toEqual(eventsOnOpening);
		await aborted.close();
		expect(eventsOf(await readAll(await openSerial(port.path, {forSeconds: 0.05})))).toEqual(eventsOnOpening);
		const closed = await openSerial(port.path);
		await closed.close();
		expect(eventsOf(await readAll(closed))).toEqual(eventsOnOpening);
	});

	it('can be opened again after it was closed', async () => {
		const port = plugIn();
		for (let time = 0; time < 3; time++) {
			const source = await openSerial(port.path);
			await source.close();
		}
	});

	it('says so in one line when another program holds the port', async () => {
		const port = plugIn();
		await opened(openSerial(port.path));
		const error = await openSerial(port.path).catch(error => error);
		expect(error).toBeInstanceOf(CannotError);
		expect(error.message).toMatch(/is using it\. Close it; `lsof \/dev\/pts\/\d+` shows who has it open\.$/);
		expect(error.message).not.toMatch(/\n/);
	});

	it('names the ports that exist when the one asked for does not', async () => {
		const error = await openSerial('/dev/ttyUSB987').catch(error => error);
		expect(error).toBeInstanceOf(CannotError);
		expect(error.message).toMatch(/^Cannot open \/dev\/ttyUSB987: there is no such port\. (Found|No serial port)/);
	});

	it.each(['/dev/null', '/dev', '/dev/shm'])('refuses %s, which is no serial port', async path => {
		const error = await openSerial(path).catch(error => error);
		expect(error).toBeInstanceOf(CannotError);
		expect(error.message).toMatch(/it is no serial port/);
	});

	it('does not touch DTR with noReset where there is none, and says what that cannot do', async () => {
		const port = plugIn();
		const reader = new ItemReader(await opened(openSerial(port.path, {noReset: true})));
		expect(await reader.event('dtr')).toMatchObject({detail: expect.stringMatching(/may have restarted all the same/)});
		port.send('512\n');
		await reader.text('512\n');
	});
});

/** A host whose ports never report their own end, as some drivers' do not. */
class SilentHost implements SerialHost {
	readonly lookEveryMs = 1;
	readonly opened: {path: string; port: EventEmitter; closed: boolean; baud: number; noReset: boolean}[] = [];
	ports: PortDescription[] = [];
	refuse = 0;

	readonly listPorts = async (): Promise<PortDescription[]> => this.ports;
	readonly isThere = async (path: string): Promise<boolean> => this.ports.some(port => port.path === path);
	readonly open = async (path: string, baud: number, noReset: boolean): Promise<OpenPort> => {
		if (this.refuse-- > 0) throw new Error('Permission denied');
		const record = {path, port: new EventEmitter(), closed: false, baud, noReset};
		this.opened.push(record);
		return Object.assign(record.port, {
			close(callback: () => void) {
				record.closed = true;
				callback();
			},
		}) as OpenPort;
	};
}

const describePort = (path: string, serialNumber: string | null): PortDescription => ({
	path,
	maker: null,
	vendorId: '1a86',
	productId: '7523',
	serialNumber,
	likelyChip: null,
	problem: null,
});

describe('a port whose driver says nothing', () => {
	let host: SilentHost;
	beforeEach(() => {
		host = new SilentHost();
		host.ports = [describePort('/dev/ttyUSB0', 'A1')];
	});

	it('is lost when no bytes come and its name is gone', async () => {
		const reader = new ItemReader(await opened(openSerial('/dev/ttyUSB0', {}, host)));
		host.opened[0]!.port.emit('data', Buffer.from('512\n'));
		await reader.text('512\n');
		host.ports = [];
		await reader.event('port-lost');
		await reader.end();
		expect(host.opened[0]!.closed).toBe(true);
	});

	it('is not lost while its name is there, however silent it is', async () => {
		let looks = 0;
		const patient = Object.assign(new SilentHost(), {
			isThere: async () => {
				looks++;
				if (looks === 20) enough();
				return true;
			},
		});
		let enough = (): void => {};
		const looked = new Promise<void>(resolve => {
			enough = resolve;
		});
		const source = await openSerial('/dev/ttyUSB0', {}, patient);
		await looked;
		await source.close();
		expect(eventsOf(await readAll(source))).toEqual(['dtr']);
	});

	it('comes back under another name by its USB serial number, and not as another board', async () => {
		const reader = new ItemReader(
			await opened(openSerial('/dev/ttyUSB0', {baud: 9600, noReset: true, reattach: true}, host)),
		);
		host.ports = [describePort('/dev/ttyUSB0', 'B2')];
		host.opened[0]!.port.emit('error', new Error('gone'));
		await reader.event('port-lost');
		host.refuse = 2;
		host.ports.push(describePort('/dev/ttyUSB7', 'A1'));
		expect(await reader.event('reattached')).toMatchObject({detail: '/dev/ttyUSB7 is back.'});
		expect(host.opened.map(({path, baud, noReset}) => [path, baud, noReset])).toEqual([
			['/dev/ttyUSB0', 9600, true],
			['/dev/ttyUSB7', 9600, true],
		]);
		host.opened[1]!.port.emit('data', Buffer.from('again\n'));
		await reader.text('again\n');
		expect(eventsOf(reader.seen)).toEqual(['dtr', 'port-lost', 'reattached']);
	});

	it('says that another program has it open, and goes on', async () => {
		const asked = Object.assign(host, {findHolder: async () => ({pid: 4711, program: 'ser\u001B[2Jmon'})});
		const reader = new ItemReader(await opened(openSerial('/dev/ttyUSB0', {}, asked)));
		expect(await reader.event('shared')).toMatchObject({
			detail: expect.stringMatching(
				/^ser\S*mon \(process 4711\) has this port open too: bytes it reads are missing here\.$/,
			),
		});
		expect(JSON.stringify(reader.seen)).not.toContain('u001b');
		host.opened[0]!.port.emit('data', Buffer.from('512\n'));
		await reader.text('512\n');
	});

	it('is lost at once when it goes while its rate is searched for', async () => {
		const open = host.open;
		const fleeting = Object.assign(host, {
			baudWaits: {firstWordMs: 5, listenMs: 1},
			open: async (...given: Parameters<typeof open>) => {
				const port = await open(...given);
				setImmediate(() => host.opened[0]!.port.emit('error', new Error('gone')));
				return port;
			},
		});
		const reader = new ItemReader(await opened(openSerial('/dev/ttyUSB0', {baud: 'auto'}, fleeting)));
		await reader.end();
		expect(eventsOf(reader.seen)).toEqual(['dtr', 'baud', 'port-lost']);
	});

	it('can be closed while it is waited for', async () => {
		const source = await openSerial('/dev/ttyUSB0', {reattach: true}, host);
		const reader = new ItemReader(source);
		host.ports = [];
		await reader.event('port-lost');
		await source.close();
		await reader.end();
		expect(host.opened).toHaveLength(1);
	});
});

describe('what had waited in a port', () => {
	/** A port at 9600 baud that hands over `waited` the moment it is read from, then what the board sends. */
	async function heard(waited: string, fresh: string) {
		const host = new SilentHost();
		host.ports = [describePort('/dev/ttyUSB0', null)];
		const open = async (path: string, baud: number, noReset: boolean): Promise<OpenPort> => {
			const port = await host.open(path, baud, noReset);
			setImmediate(() => host.opened[0].port.emit('data', Buffer.from(waited)));
			return port;
		};
		const source = await opened(openSerial('/dev/ttyUSB0', {baud: 9600}, {...host, isThere: host.isThere, open}));
		host.opened[0].port.emit('data', Buffer.from(fresh));
		const reader = new ItemReader(source);
		await reader.next((_, soFar) => bytesOf(soFar).byteLength === waited.length + fresh.length);
		const session = new Session({timing: 'measured', baud: 9600});
		for (const item of reader.seen) session.push(item);
		session.end();
		return {items: reader.seen, session};
	}

	const fresh = '512,498,473,500,510,1\r\n'.repeat(20);

	it('is handed over byte for byte, but sets no scale and counts for nothing', async () => {
		const waited = '4095,2000,2100,2200,2300,1\r\n'.repeat(40);
		const {items, session} = await heard(waited, fresh);
		expect(bytesOf(items).toString()).toBe(waited + fresh);
		expect(eventsOf(items)).toEqual(['dtr', 'stale', 'fresh']);
		expect(session.link.bytes).toBe(fresh.length);
		expect(session.features.scale.fullScale).toBe(1023);
		expect(session.events.at(-1)).toMatchObject({
			event: 'stale',
			detail: expect.stringMatching(/^1120 bytes had waited/),
		});
	});

	it('is read back from a recording of it the same way', async () => {
		const {items} = await heard('4095,2000,2100,2200,2300,1\r\n'.repeat(40), fresh);
		const file = join(await mkdtemp(join(tmpdir(), 'stale-')), 'glove.gbrec');
		const writer = await RecordingWriter.create(file, {
			source: {kind: 'serial', name: 'x', timing: 'measured', baud: 9600},
		});
		for (const item of items) writer.write(item);
		await writer.close();
		const session = new Session({timing: 'measured', baud: 9600});
		for await (const batch of (await openFile(file, 1e6, {})).batches()) for (const item of batch) session.push(item);
		session.end();
		expect(session.link.bytes).toBe(fresh.length);
		await rm(join(file, '..'), {recursive: true});
	});

	it('is not said of what the line can have carried since the port was opened', async () => {
		// 9600 baud carry 15 bytes in the 16 ms that a bridge chip may hold them.
		const {items, session} = await heard('512,498\r\n', fresh);
		expect(eventsOf(items)).toEqual(['dtr']);
		expect(session.link.bytes).toBe(9 + fresh.length);
	});
});
