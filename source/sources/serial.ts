import {stat} from 'node:fs/promises';
import {CannotError} from '../cannot-error.ts';
import type {Source} from '../stream/source.ts';
import {escapeText} from '../text/escape-text.ts';
import {findBaud} from './find-baud.ts';
import {ItemQueue} from './item-queue.ts';
import {startClock} from './live-clock.ts';
import {type LiveOptions, liveSource} from './live-source.ts';
import {findPortHolder, type PortHolder} from './port-access.ts';
import {listPorts, type PortDescription} from './port-list.ts';
import {PortWatch} from './port-watch.ts';
import {readAtOnce} from './read-at-once.ts';
import {explainOpenError, type SerialSurroundings} from './serial-errors.ts';
import {firstBytes} from './waiting-bytes.ts';

/** Other systems list their ports far more slowly than a name can be looked up. */
const listEveryMs = 2000;

const defaultBaud = 115_200;

type SerialOptions = LiveOptions & {
	/** `auto` tries the usual rates and keeps the one that yields text. */
	readonly baud?: number | 'auto';
	/** Try not to restart the board by opening its port. */
	readonly noReset?: boolean;
	/** When the port is lost, wait for it to come back. */
	readonly reattach?: boolean;
};

/** An open port, as far as this file needs one; the serial library's has this shape. */
export type OpenPort = {
	on(event: 'data', listener: (bytes: Buffer) => void): unknown;
	on(event: 'close' | 'error', listener: (error?: Error | null) => void): unknown;
	/** Changes the symbol rate of the open port. */
	update?(options: {baudRate: number}, callback: (error?: Error | null) => void): void;
	close(callback: (error?: Error | null) => void): void;
};

/** What a serial source stands on; tests replace parts. */
export type SerialHost = SerialSurroundings & {
	/** Opens a port; rejects with the library's error. */
	readonly open: (path: string, baud: number, noReset: boolean) => Promise<OpenPort>;
	/** True while the port is there. */
	readonly isThere: (path: string) => Promise<boolean>;
	readonly lookEveryMs?: number;
	/** Shorter waits for the search of the rate. */
	readonly baudWaits?: {readonly firstWordMs?: number; readonly listenMs?: number};
};

/**
 * A serial port as a source. Bytes carry the time they reached this process, on a monotonic clock that starts when the
 * port is open. The first item is the `dtr` event, which tells what opening did to the board. What had waited in the port
 * since before stands between the events `stale` and `fresh`.
 *
 * A pulled cable does not always say so: while no bytes come, the port's name is watched, and when it is gone a
 * `port-lost` event follows and the source ends, or waits with `reattach` for the same USB serial number under any
 * name, or else for the same name.
 *
 * @throws CannotError, one line, if the port does not open.
 */
export async function openSerial(
	path: string,
	options: SerialOptions = {},
	host: SerialHost = systemHost,
): Promise<Source> {
	const {noReset = false, reattach = false} = options;
	let baud = options.baud === 'auto' || options.baud === undefined ? defaultBaud : options.baud;
	if (!Number.isInteger(baud) || baud < 1) {
		throw new CannotError(`A serial port cannot run at ${baud} baud: give a whole number such as 115200.`);
	}

	// Before the port is open: nobody would read what comes in the meantime.
	const known = reattach ? await describe(path, host) : undefined;
	const holder = await host.findHolder?.(path);
	const port = await openOrExplain(path, baud, noReset, host);
	// Until it is attended to below: an error nobody listens to would end the process.
	let goneEarly: {error?: Error | null | undefined} | undefined;
	for (const event of ['close', 'error'] as const) {
		port.on(event, error => {
			goneEarly ??= {error};
		});
	}

	const search = options.baud === 'auto' ? await findBaud(port, host.baudWaits) : undefined;
	baud = search?.baud ?? baud;
	// A search has used up what was there.
	const first = search === undefined ? await firstBytes(port, baud) : undefined;
	const clock = startClock();
	const queue = new ItemQueue();
	queue.push({t: 0, event: 'dtr', detail: whatOpeningDid(noReset)});
	if (holder !== undefined) queue.push({t: 0, event: 'shared', detail: whoElseReads(holder)});
	if (search !== undefined) queue.push({t: 0, event: 'baud', detail: search.detail});
	if (first !== undefined && first.bytes.length > 0) {
		if (first.isStale) queue.push({t: 0, event: 'stale', detail: whatWaited(first.bytes.length)});
		queue.push({t: 0, bytes: first.bytes});
		if (first.isStale) queue.push({t: 0, event: 'fresh'});
	}

	const watch = new PortWatch({path, baud, noReset, reattach, known}, host, queue, clock);
	watch.attend(port);
	if (goneEarly) watch.lose(goneEarly.error ?? undefined);
	return liveSource({kind: 'serial', name: path, timing: 'measured', baud}, queue, clock, options, () => watch.stop());
}

async function openOrExplain(path: string, baud: number, noReset: boolean, host: SerialHost): Promise<OpenPort> {
	try {
		return await host.open(path, baud, noReset);
	} catch (error) {
		if (error instanceof CannotError) throw error;
		throw await explainOpenError(path, baud, error as Error, host);
	}
}

function whatOpeningDid(noReset: boolean): string {
	if (!noReset) {
		return 'Opening the port raised DTR, which restarts many boards: boot text may come first. --no-reset tries to avoid it.';
	}

	return process.platform === 'win32'
		? 'DTR and RTS were kept low. A board with native USB may stay silent like that: leave out --no-reset then.'
		: 'DTR and RTS were lowered at once and stay so on closing, but the system raises them for a moment first: a board may have restarted all the same. A board with native USB may stay silent while they are low: leave out --no-reset then.';
}

/** The driver hands each byte to one reader only, and a program that sets no lock is not kept out by ours. */
function whoElseReads({program, pid}: PortHolder): string {
	return `${escapeText(program, 40)} (process ${pid}) has this port open too: bytes it reads are missing here.`;
}

function whatWaited(bytes: number): string {
	return `${bytes} bytes had waited in the port since before it was opened: kept in a recording, but not judged.`;
}

async function describe(path: string, host: SerialHost): Promise<PortDescription | undefined> {
	const ports = await host.listPorts().catch(() => []);
	return ports.find(port => port.path === path);
}

let listedAtMs = Number.NEGATIVE_INFINITY;
let listed: ReadonlySet<string> = new Set();

const systemHost: SerialHost = {
	listPorts: () => listPorts(),
	findHolder: path => findPortHolder(path),
	async isThere(path) {
		if (process.platform !== 'win32') {
			return stat(path).then(
				() => true,
				error => (error as NodeJS.ErrnoException).code !== 'ENOENT',
			);
		}

		if (performance.now() - listedAtMs > listEveryMs) {
			listed = new Set((await listPorts()).map(port => port.path.toUpperCase()));
			listedAtMs = performance.now();
		}

		return listed.has(path.replace(/^\\\\\.\\/, '').toUpperCase());
	},
	async open(path, baud, noReset) {
		if (process.platform !== 'win32') {
			// Opening anything but a device could block or do harm.
			const found = await stat(path);
			if (!found.isCharacterDevice()) throw new Error(`Inappropriate ioctl for device, cannot open ${path}`);
		}

		const {SerialPort} = await import('serialport').catch(error => {
			if (error instanceof CannotError) throw error;
			throw new CannotError(
				`Serial ports cannot be used here: the driver part did not load (${String((error as Error).message).split('\n')[0]}). Install glovebench again on this computer.`,
			);
		});
		const port = new SerialPort({path, baudRate: baud, autoOpen: false, hupcl: !noReset});
		await new Promise<void>((resolve, reject) => {
			port.open(error => (error ? reject(error) : resolve()));
		});
		readAtOnce(port.port);
		if (noReset) {
			// Pseudo-terminals and some adapters have no such lines; then there is nothing to lower.
			await new Promise<void>(resolve => {
				port.set({dtr: false, rts: false}, () => resolve());
			});
		}

		return port;
	},
};
