import {execFile} from 'node:child_process';
import {chmod, mkdir, mkdtemp, rm, symlink, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {promisify} from 'node:util';
import {build} from 'esbuild';
import {afterEach, beforeEach, describe, expect, it} from 'vitest';
import {findPortHolders} from '../../source/sources/port-access.ts';
import {listPorts} from '../../source/sources/port-list.ts';
import {likelyBridgeChip} from '../../source/sources/usb-bridge-chip.ts';

let root: string;
beforeEach(async () => {
	root = await mkdtemp(join(tmpdir(), 'root-'));
});
afterEach(() => rm(root, {recursive: true, force: true}));

const file = async (path: string, text = ''): Promise<void> => {
	await mkdir(dirname(join(root, path)), {recursive: true});
	await writeFile(join(root, path), text);
};

const link = async (path: string, target: string): Promise<void> => {
	await mkdir(dirname(join(root, path)), {recursive: true});
	await symlink(target, join(root, path));
};

/** A tty as the kernel shows it: its class entry points to its device, which lies beneath the USB device. */
const plugIn = async (
	name: string,
	device: string,
	usb?: {at: string; idVendor: string; idProduct: string; manufacturer?: string; serial?: string},
): Promise<void> => {
	await mkdir(join(root, 'sys/devices', device), {recursive: true});
	await mkdir(join(root, 'sys/class/tty', name), {recursive: true});
	await link(`sys/class/tty/${name}/device`, join('../../../devices', device));
	await file(`dev/${name}`);
	if (!usb) return;
	const {at, ...attributes} = usb;
	for (const [attribute, value] of Object.entries(attributes))
		await file(join('sys/devices', at, attribute), `${value}\n`);
};

describe('listPorts on Linux', () => {
	it('tells what /sys knows of a bridge and of a board with native USB', async () => {
		await plugIn('ttyUSB0', 'pci/usb1/1-2/1-2:1.0/ttyUSB0', {
			at: 'pci/usb1/1-2',
			idVendor: '1A86',
			idProduct: '7523',
			manufacturer: 'Puppet Supplies',
			serial: 'A50285BI',
		});
		await plugIn('ttyACM0', 'pci/usb1/1-3/1-3:1.0', {at: 'pci/usb1/1-3', idVendor: '303a', idProduct: '1001'});
		expect(await listPorts(root, 'linux')).toEqual([
			{
				path: '/dev/ttyACM0',
				maker: null,
				vendorId: '303a',
				productId: '1001',
				serialNumber: null,
				likelyChip: 'ESP32-S3/C3/C6 (built-in USB serial and JTAG)',
				problem: null,
			},
			{
				path: '/dev/ttyUSB0',
				maker: 'Puppet Supplies',
				vendorId: '1a86',
				productId: '7523',
				serialNumber: 'A50285BI',
				likelyChip: 'WCH CH340',
				problem: null,
			},
		]);
	});

	it('lists USB first, by number, and leaves out UARTs that are not there, screens and the like', async () => {
		for (const n of [10, 2]) {
			await plugIn(`ttyUSB${n}`, `usb1/1-${n}/1-${n}:1.0/ttyUSB${n}`, {
				at: `usb1/1-${n}`,
				idVendor: '0403',
				idProduct: '6001',
			});
		}

		await plugIn('ttyS0', 'pnp/00:01');
		await file('sys/class/tty/ttyS0/type', '4\n');
		await plugIn('ttyS1', 'platform/serial8250');
		await file('sys/class/tty/ttyS1/type', '0\n');
		await mkdir(join(root, 'sys/class/tty/tty1'));
		await file('dev/tty1');
		await plugIn('rfcomm0', 'virtual/bluetooth/hci0:11');
		expect((await listPorts(root, 'linux')).map(({path, likelyChip}) => [path, likelyChip])).toEqual([
			['/dev/ttyUSB2', 'FTDI FT232R'],
			['/dev/ttyUSB10', 'FTDI FT232R'],
			['/dev/rfcomm0', 'Bluetooth serial (RFCOMM)'],
			['/dev/ttyS0', null],
		]);
	});

	it('falls back on /dev and its names by id where /sys is not shown', async () => {
		await file('dev/ttyUSB3');
		await file('dev/ttyACM1');
		await link('dev/serial/by-id/usb-Puppet_Supplies_Bridge_0001-if00-port0', '../../ttyUSB3');
		expect(await listPorts(root, 'linux')).toEqual([
			expect.objectContaining({path: '/dev/ttyACM1', maker: null, serialNumber: null, vendorId: null}),
			expect.objectContaining({path: '/dev/ttyUSB3', maker: 'Puppet', serialNumber: '0001', vendorId: null}),
		]);
	});

	it('says who has a port open, that it is the console, and that its file is missing', async () => {
		await plugIn('ttyUSB0', 'usb1/1-1/ttyUSB0');
		await plugIn('ttyUSB1', 'usb1/1-2/ttyUSB1');
		await plugIn('ttyUSB2', 'usb1/1-3/ttyUSB2');
		await link('proc/4242/fd/7', '/dev/ttyUSB0');
		await file('proc/4242/comm', 'monitor\n');
		await file('sys/class/tty/console/active', 'tty0 ttyUSB1\n');
		await rm(join(root, 'dev/ttyUSB2'));
		expect((await listPorts(root, 'linux')).map(({problem}) => problem)).toEqual([
			'in use by monitor (process 4242)',
			'it is the console of this computer',
			'its device file is missing (inside a container, pass the device in)',
		]);
	});

	it('is empty, not an error, where there is nothing', async () => {
		expect(await listPorts(root, 'linux')).toEqual([]);
		await chmod(root, 0o700);
		expect(await findPortHolders(['/dev/ttyUSB0'], root)).toEqual(new Map());
	});

	// The serial library's own list runs udevadm; where that is missing it fails in a way that nothing can catch.
	it.skipIf(process.platform !== 'linux')('works on this computer with no program to be found', async () => {
		const {outputFiles} = await build({
			stdin: {
				contents: `import {listPorts} from './source/sources/port-list.ts'; console.log(JSON.stringify(await listPorts()));`,
				resolveDir: join(import.meta.dirname, '../..'),
			},
			bundle: true,
			write: false,
			format: 'esm',
			platform: 'node',
			external: ['serialport'],
		});
		const {stdout, stderr} = await promisify(execFile)(
			process.execPath,
			['--input-type=module', '-e', outputFiles[0]!.text],
			{
				env: {PATH: ''},
			},
		);
		expect(stderr).toBe('');
		expect(Array.isArray(JSON.parse(stdout))).toBe(true);
	});
});

describe('likelyBridgeChip', () => {
	it('knows a maker where it does not know the product, and nothing else', () => {
		expect(likelyBridgeChip('0403', 'ffff')).toBe('FTDI bridge');
		expect(likelyBridgeChip('10C4', 'EA60')).toBe('Silicon Labs CP2102/CP2104');
		expect(likelyBridgeChip('10c4', '0001')).toBe(null);
		expect(likelyBridgeChip(null, null)).toBe(null);
	});
});
