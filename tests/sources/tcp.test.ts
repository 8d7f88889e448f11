import {once} from 'node:events';
import {type AddressInfo, createServer, type Server, type Socket} from 'node:net';
import {afterEach, describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {openSource} from '../../source/sources/open-source.ts';
import {parseSourceSpec} from '../../source/sources/source-spec.ts';
import {bytesOf, eventsOf, ItemReader, readAll} from './reading.ts';

const servers: Server[] = [];
afterEach(async () => {
	await Promise.all(
		servers.splice(0).map(async server => {
			const closed = once(server, 'close');
			server.close();
			await closed;
		}),
	);
});

const listen = async (host: string, serve: (socket: Socket) => void): Promise<number> => {
	const server = createServer(serve);
	servers.push(server);
	server.listen(0, host);
	await once(server, 'listening');
	return (server.address() as AddressInfo).port;
};

describe('a TCP source', () => {
	it('delivers what is sent, with rising times, and ends when the other side closes', async () => {
		const port = await listen('127.0.0.1', socket => {
			socket.write('512,498\r\n');
			socket.end(Buffer.from([0, 255]));
		});
		const source = await openSource(`tcp://127.0.0.1:${port}`);
		expect(source.info).toEqual({kind: 'tcp', name: `tcp://127.0.0.1:${port}`, timing: 'measured', baud: null});
		const items = await readAll(source);
		expect(bytesOf(items)).toEqual(Buffer.from('512,498\r\n\0\xff', 'latin1'));
		expect(eventsOf(items)).toEqual([]);
		expect(source.now!()).toBeGreaterThanOrEqual(items.at(-1)!.t);
	});

	it('takes an IPv6 address in brackets', async context => {
		const port = await listen('::1', socket => socket.end('1\n')).catch(() => undefined);
		if (port === undefined) return context.skip();
		expect(bytesOf(await readAll(await openSource(`tcp://[::1]:${port}`))).toString()).toBe('1\n');
	});

	it('says that the connection broke', async () => {
		let breakIt = (): void => {};
		const port = await listen('127.0.0.1', socket => {
			socket.write('512\n');
			breakIt = () => socket.resetAndDestroy();
		});
		const reader = new ItemReader(await openSource(`tcp://127.0.0.1:${port}`));
		await reader.text('512\n');
		breakIt();
		await reader.end();
		const items = reader.seen;
		expect(eventsOf(items)).toEqual(['port-lost']);
		expect(items.at(-1)).toMatchObject({
			detail: `The connection to tcp://127.0.0.1:${port} broke (the other side cut it). Is the glove still switched on and in reach?`,
		});
	});

	it('ends when it is aborted, closed, or its time is up', async () => {
		const port = await listen('127.0.0.1', socket => {
			socket.on('error', () => {});
			socket.write('1\n');
		});
		const name = `tcp://127.0.0.1:${port}`;
		const abort = new AbortController();
		const reader = new ItemReader(await openSource(name, {signal: abort.signal}));
		await reader.text('1\n');
		abort.abort();
		await reader.end();
		const closed = await openSource(name);
		await closed.close();
		await readAll(closed);
		await readAll(await openSource(name, {forSeconds: 0.02}));
	});

	it.each([
		['refused', 'tcp://127.0.0.1:1', /^tcp:\/\/127\.0\.0\.1:1 refuses the connection: nothing listens on that port\./],
		['unknown', 'tcp://glove.invalid:3333', /^The name glove\.invalid cannot be resolved/],
	])('says in one line that an address is %s', async (_, name, words) => {
		const error = await openSource(name).catch(error => error);
		expect(error).toBeInstanceOf(CannotError);
		expect(error.message).toMatch(words);
		expect(error.message).not.toMatch(/\n/);
	});

	it('gives up connecting when it is aborted', async () => {
		const abort = new AbortController();
		abort.abort();
		await expect(openSource('tcp://127.0.0.1:9', {signal: abort.signal})).rejects.toThrow(CannotError);
	});
});

describe('the name of a source', () => {
	it.each([
		['-', {kind: 'stdin'}],
		['/dev/ttyUSB0', {kind: 'serial', path: '/dev/ttyUSB0'}],
		['/dev/cu.usbmodem14101', {kind: 'serial', path: '/dev/cu.usbmodem14101'}],
		['COM5', {kind: 'serial', path: 'COM5'}],
		['\\\\.\\COM12', {kind: 'serial', path: '\\\\.\\COM12'}],
		['tcp://10.0.0.2:3333', {kind: 'tcp', host: '10.0.0.2', port: 3333}],
		['TCP://glove:23/', {kind: 'tcp', host: 'glove', port: 23}],
		['tcp://[fe80::1%eth0]:3333', {kind: 'tcp', host: 'fe80::1%eth0', port: 3333}],
		['glove.gbrec', {kind: 'file', path: 'glove.gbrec'}],
		['COMPLAINT.txt', {kind: 'file', path: 'COMPLAINT.txt'}],
		['/dev/stdin', {kind: 'file', path: '/dev/stdin'}],
		['/dev/fd/63', {kind: 'file', path: '/dev/fd/63'}],
		['/dev/shm/glove.log', {kind: 'file', path: '/dev/shm/glove.log'}],
	])('%s', (spec, expected) => {
		expect(parseSourceSpec(spec)).toEqual(expected);
	});

	it.each(['tcp://', 'tcp://glove', 'tcp://glove:0', 'tcp://glove:65536', 'tcp://::1:23', 'tcp:glove:1', '', ' '])(
		'refuses %j',
		spec => {
			expect(() => parseSourceSpec(spec)).toThrow(CannotError);
		},
	);
});
