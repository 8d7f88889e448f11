import {readdir, readFile, readlink, realpath} from 'node:fs/promises';
import {basename, dirname, join} from 'node:path';
import {findPortHolders, portProblem} from './port-access.ts';
import {likelyBridgeChip} from './usb-bridge-chip.ts';

/** A serial port and what is known of it; null where nothing is. */
export type PortDescription = {
	/** What to give as source. */
	readonly path: string;
	readonly maker: string | null;
	/** Four hexadecimal digits, lower case. */
	readonly vendorId: string | null;
	readonly productId: string | null;
	readonly serialNumber: string | null;
	/** Bridge or microcontroller, guessed from the USB ids. */
	readonly likelyChip: string | null;
	/** Why it cannot be opened, in words for the user. */
	readonly problem: string | null;
};

/**
 * The serial ports of this computer, those on USB first.
 *
 * On Linux they are read from /sys and /dev by ourselves: the serial library's own list runs a helper program, and
 * where that is missing its failure cannot be caught and ends the process.
 *
 * @param root Where /sys, /dev, /proc and /etc are; for tests.
 */
export async function listPorts(root = '/', platform: NodeJS.Platform = process.platform): Promise<PortDescription[]> {
	const ports = platform === 'linux' ? await listLinuxPorts(root) : await listOtherPorts();
	return ports.sort(
		(a, b) =>
			Number(b.vendorId !== null) - Number(a.vendorId !== null) || a.path.localeCompare(b.path, 'en', {numeric: true}),
	);
}

/** Names of serial devices that are worth a look where /sys shows nothing (a container, an odd driver). */
const serialName = /^(?:ttyUSB|ttyACM|rfcomm|ttyAMA|ttyTHS|ttymxc|ttyXRUSB)\d+$/;

async function listLinuxPorts(root: string): Promise<PortDescription[]> {
	const classFolder = join(root, 'sys/class/tty');
	const byClass = await readdir(classFolder).catch(() => []);
	const byName = (await readdir(join(root, 'dev')).catch(() => [])).filter(name => serialName.test(name));
	const identified = await readIds(root);
	const names = new Set([...byClass, ...byName, ...identified.keys()]);
	const found = await Promise.all(
		[...names].map(async name => {
			const device = await realpath(join(classFolder, name, 'device')).catch(() => undefined);
			if (device === undefined && !byName.includes(name) && !identified.has(name)) return undefined;
			// The kernel keeps names for UARTs that might be there; type 0 means that none is.
			if ((await readLine(join(classFolder, name, 'type'))) === '0') return undefined;
			const usb = device === undefined ? undefined : await readUsb(device);
			return {name, usb, id: identified.get(name)};
		}),
	);
	const real = found.filter(port => port !== undefined);
	const holders = await findPortHolders(
		real.map(({name}) => `/dev/${name}`),
		root,
	);
	const consoles = ((await readLine(join(root, 'sys/class/tty/console/active'))) ?? '').split(' ');
	return Promise.all(
		real.map(async ({name, usb, id}) => {
			const path = `/dev/${name}`;
			const bluetooth = name.startsWith('rfcomm') ? 'Bluetooth serial (RFCOMM)' : null;
			return {
				path,
				maker: usb?.maker ?? id?.maker ?? null,
				vendorId: usb?.vendorId ?? null,
				productId: usb?.productId ?? null,
				serialNumber: usb?.serialNumber ?? id?.serialNumber ?? null,
				likelyChip: likelyBridgeChip(usb?.vendorId ?? null, usb?.productId ?? null) ?? bluetooth,
				problem: consoles.includes(name)
					? 'it is the console of this computer'
					: await portProblem(path, holders.get(path), root),
			};
		}),
	);
}

/** Goes up from a tty's device to the USB device it is a part of. */
async function readUsb(
	device: string,
): Promise<Pick<PortDescription, 'maker' | 'vendorId' | 'productId' | 'serialNumber'> | undefined> {
	let folder = device;
	// Interface, device: two levels for CDC, three behind a bridge driver; more for safety, never without end.
	for (let level = 0; level < 6; level++) {
		const vendorId = await readLine(join(folder, 'idVendor'));
		if (vendorId !== null) {
			return {
				vendorId: vendorId.toLowerCase(),
				productId: (await readLine(join(folder, 'idProduct')))?.toLowerCase() ?? null,
				maker: await readLine(join(folder, 'manufacturer')),
				serialNumber: await readLine(join(folder, 'serial')),
			};
		}

		const above = dirname(folder);
		if (above === folder) return undefined;
		folder = above;
	}

	return undefined;
}

/** Maker and serial number as the names in /dev/serial/by-id give them: `usb-MAKER_PRODUCT_SERIAL-if00-port0`. */
async function readIds(root: string): Promise<Map<string, {maker: string | null; serialNumber: string | null}>> {
	const folder = join(root, 'dev/serial/by-id');
	const ids = new Map<string, {maker: string | null; serialNumber: string | null}>();
	for (const link of await readdir(folder).catch(() => [])) {
		const target = await readlink(join(folder, link)).catch(() => undefined);
		if (target === undefined) continue;
		const words = /^usb-(.+?)(?:-if\d+)?(?:-port\d+)?$/.exec(link)?.[1]?.split('_') ?? [];
		ids.set(basename(target), {
			maker: words.length > 0 ? words[0]! : null,
			serialNumber: words.length > 2 ? words.at(-1)! : null,
		});
	}

	return ids;
}

/** The text of a one-line file; null if there is none or it is empty. Attributes are read as bytes of unknown origin. */
async function readLine(path: string): Promise<string | null> {
	const text = (await readFile(path, 'utf8').catch(() => '')).trim();
	return text === '' ? null : text;
}

async function listOtherPorts(): Promise<PortDescription[]> {
	const {SerialPort} = await import('serialport');
	const ports = await SerialPort.list();
	return ports.map(({path, manufacturer, vendorId, productId, serialNumber}) => {
		const vendor = vendorId?.toLowerCase().padStart(4, '0') ?? null;
		const product = productId?.toLowerCase().padStart(4, '0') ?? null;
		return {
			path,
			maker: manufacturer ?? null,
			vendorId: vendor,
			productId: product,
			serialNumber: serialNumber ?? null,
			likelyChip: likelyBridgeChip(vendor, product) ?? (/bluetooth|bth/i.test(path) ? 'Bluetooth serial' : null),
			problem: null,
		};
	});
}
