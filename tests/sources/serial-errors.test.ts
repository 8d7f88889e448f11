import {chmod, chown, mkdir, mkdtemp, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {afterEach, beforeEach, describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {explainPermission} from '../../source/sources/port-access.ts';
import {explainOpenError, type SerialSurroundings} from '../../source/sources/serial-errors.ts';

const described = (path: string) => ({
	path,
	maker: null,
	vendorId: null,
	productId: null,
	serialNumber: null,
	likelyChip: null,
	problem: null,
});

const around: SerialSurroundings = {
	listPorts: async () => [described('/dev/ttyACM0'), described('/dev/ttyUSB1')],
	explainPermission: async () => 'permission denied: because.',
	findHolder: async () => ({pid: 42, program: 'monitor'}),
	platform: 'linux',
};

const say = async (words: string, more: Partial<SerialSurroundings> = {}): Promise<string> => {
	const error = await explainOpenError('/dev/ttyUSB0', 250_000, new Error(words), {...around, ...more});
	expect(error).toBeInstanceOf(CannotError);
	expect(error.message).not.toMatch(/\n/);
	return error.message;
};

// The words are those of the serial library's sources (serialport_unix.cpp, serialport_win.cpp).
describe('why a port did not open', () => {
	it.each<[string, string, Partial<SerialSurroundings>?]>([
		[
			'Error: No such file or directory, cannot open /dev/ttyUSB0',
			'Cannot open /dev/ttyUSB0: there is no such port. Found are /dev/ttyACM0, /dev/ttyUSB1.',
		],
		[
			'Opening COM5: File not found',
			'Cannot open /dev/ttyUSB0: there is no such port. No serial port is found at all: check that the cable carries data and that the board has power.',
			{listPorts: async () => []},
		],
		[
			'Error: No such file or directory, cannot open /dev/ttyUSB0',
			'Cannot open /dev/ttyUSB0: there is no such port. No serial port is found at all: check that the cable carries data and that the board has power.',
			{
				listPorts: async () => {
					throw new Error('no list');
				},
			},
		],
		[
			'Error Resource temporarily unavailable Cannot lock port',
			'Cannot open /dev/ttyUSB0: monitor (process 42) is using it. Close it; `lsof /dev/ttyUSB0` shows who has it open.',
		],
		[
			'Error: Device or resource busy, cannot open /dev/ttyUSB0',
			'Cannot open /dev/ttyUSB0: another program is using it. Close it; `lsof /dev/ttyUSB0` shows who has it open.',
			{findHolder: async () => undefined},
		],
		[
			'Opening COM5: Access denied',
			'Cannot open /dev/ttyUSB0: another program is using it. Close other serial monitors and upload tools.',
			{platform: 'win32', findHolder: async () => undefined},
		],
		['Error: Permission denied, cannot open /dev/ttyUSB0', 'Cannot open /dev/ttyUSB0: permission denied: because.'],
		[
			'Error: Invalid argument || while setting custom baud rate of 250000',
			'Cannot open /dev/ttyUSB0 at 250000 baud: the port does not take that rate. Try 115200 or 9600.',
		],
		[
			'Error: Inappropriate ioctl for device setting custom baud rate of 250000',
			'Cannot open /dev/ttyUSB0: it is no serial port. Found are /dev/ttyACM0, /dev/ttyUSB1.',
		],
		[
			'Error: Input/output error, cannot open /dev/ttyUSB0',
			'Cannot open /dev/ttyUSB0: the device does not answer. Unplug it and plug it in again.',
		],
		[
			'Error: Something\nnobody expected',
			'Cannot open /dev/ttyUSB0: Something nobody expected. Unplug it and plug it in again, and check the name.',
		],
	])('%j', async (words, expected, more) => {
		expect(await say(words, more)).toBe(expected);
	});
});

describe('the group that owns a port', () => {
	let root: string;
	const path = (): string => join(root, 'ttyUSB0');
	beforeEach(async () => {
		root = await mkdtemp(join(tmpdir(), 'group-'));
		await writeFile(path(), '');
		await mkdir(join(root, 'etc'));
	});
	afterEach(() => rm(root, {recursive: true, force: true}));

	// Only the superuser may give a file away; others have their own group to test with.
	const gid = process.getuid?.() === 0 ? 986 : (process.getgid?.() ?? 0);

	it.skipIf(process.platform === 'win32')('is the real one, not the one other systems have', async () => {
		await chown(path(), process.getuid!(), gid);
		await chmod(path(), 0o660);
		await writeFile(join(root, 'etc/group'), `root:x:0:\ndialout:x:20:\nuucp:x:${gid}:mara\n`);
		expect(await explainPermission(path(), root)).toBe(
			'permission denied: it belongs to the group uucp. Run `sudo usermod -aG uucp $USER`, then log out and in again; if you have just done that, only logging in again is missing.',
		);
	});

	it.skipIf(process.platform === 'win32')('is not joined where that would not help', async () => {
		await chown(path(), process.getuid!(), gid);
		await chmod(path(), 0o600);
		await writeFile(join(root, 'etc/group'), `uucp:x:${gid}:\n`);
		expect(await explainPermission(path(), root)).toBe(
			'permission denied: it is open to root alone (group uucp, mode 600). Unplug the adapter and plug it in again; if it stays so, write SUBSYSTEM=="tty", KERNEL=="ttyUSB*", GROUP="uucp", MODE="0660" into /etc/udev/rules.d/60-glove.rules, run `sudo udevadm control --reload && sudo udevadm trigger` and `sudo usermod -aG uucp $USER`, then log out and in again.',
		);
	});

	it('is a number where it has no name, and unknown where the file has gone', async () => {
		await chown(path(), process.getuid!(), gid);
		await chmod(path(), 0o660);
		expect(await explainPermission(path(), root)).toMatch(
			gid === 0 ? /open to root alone/ : new RegExp(`belongs to the group number ${gid}\\.`),
		);
		expect(await explainPermission(join(root, 'none'), root)).toMatch(/its owner cannot be told/);
	});
});
