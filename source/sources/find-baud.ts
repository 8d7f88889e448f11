import type {OpenPort} from './serial.ts';

/** Rates tried, the likeliest first: what firmware for small boards is usually set to. Common practice, no source. */
export const usualBauds = [
	115_200, 9600, 57_600, 38_400, 230_400, 19_200, 250_000, 500_000, 460_800, 921_600, 1_000_000, 74_880, 28_800, 14_400,
	4800,
] as const;

/** A board that was restarted by opening its port speaks within this time (boot loaders wait 1 to 2 s). */
const firstWordMs = 2500;

/** Listening at each rate: three frames at ten a second. */
const listenMs = 320;

/** What is still on its way at the old rate when the rate is changed. */
const settleMs = 40;

/** Share of text from which a rate is taken without trying the rest, and below which none is believed. */
const sureShare = 0.97;
const leastShare = 0.8;

type BaudSearch = {
	/** The rate kept. */
	readonly baud: number;
	/** What was done, for the user. */
	readonly detail: string;
};

/**
 * Tries the usual rates on an open port and leaves it at the one that yields text. Never throws: where none does, the
 * first rate is kept and the detail says so. The port stays open throughout, so that the board is not restarted again.
 */
export async function findBaud(
	port: OpenPort,
	waits: {readonly firstWordMs?: number; readonly listenMs?: number} = {},
): Promise<BaudSearch> {
	const listener = new Listener(port);
	await listener.firstByte(waits.firstWordMs ?? firstWordMs);
	let best: {baud: number; share: number} = {baud: usualBauds[0], share: -1};
	let tried = 0;
	for (const baud of usualBauds) {
		if (!(await changeRate(port, baud))) continue;
		tried++;
		await wait(settleMs);
		listener.clear();
		await wait(waits.listenMs ?? listenMs);
		const share = textShare(listener.bytes());
		if (share > best.share) best = {baud, share};
		if (share >= sureShare) break;
	}
	listener.stop();
	if (best.share < leastShare) {
		await changeRate(port, usualBauds[0]);
		const heard = best.share < 0 ? 'nothing came' : `at best ${Math.round(100 * best.share)} % of the bytes were text`;
		return {
			baud: usualBauds[0],
			detail: `None of ${tried} usual rates gave text (${heard}): listening at ${usualBauds[0]}. Is the board sending?`,
		};
	}
	await changeRate(port, best.baud);
	return {
		baud: best.baud,
		detail: `Listening at ${best.baud} baud: ${Math.round(100 * best.share)} % of the bytes are text there; ${tried} rate${tried === 1 ? ' was' : 's were'} tried.`,
	};
}

/** Share of bytes that a frame of text could hold; −1 for none. Without a digit and a line end it counts half. */
export function textShare(bytes: Uint8Array): number {
	if (bytes.length < 4) return -1;
	let text = 0;
	let digits = 0;
	let ends = 0;
	for (const byte of bytes) {
		if ((byte >= 0x20 && byte < 0x7f) || byte === 0x09) text++;
		else if (byte === 0x0a || byte === 0x0d) {
			text++;
			ends++;
		}
		if (byte >= 0x30 && byte <= 0x39) digits++;
	}
	const share = text / bytes.length;
	return digits >= 0.2 * bytes.length && ends > 0 ? share : share / 2;
}

/** Collects what a port says between two looks. */
class Listener {
	#chunks: Uint8Array[] = [];
	#waiting: (() => void) | undefined;
	#stopped = false;

	constructor(port: OpenPort) {
		port.on('data', bytes => {
			if (this.#stopped) return;
			this.#chunks.push(bytes);
			this.#waiting?.();
		});
	}

	async firstByte(longestMs: number): Promise<void> {
		if (this.#chunks.length > 0) return;
		await new Promise<void>(resolve => {
			const timer = setTimeout(resolve, longestMs);
			this.#waiting = () => {
				clearTimeout(timer);
				resolve();
			};
		});
		this.#waiting = undefined;
	}

	clear(): void {
		this.#chunks = [];
	}

	bytes(): Uint8Array {
		return Buffer.concat(this.#chunks);
	}

	stop(): void {
		this.#stopped = true;
	}
}

/** False where the driver refuses the rate. */
function changeRate(port: OpenPort, baud: number): Promise<boolean> {
	return new Promise(resolve => {
		if (port.update === undefined) resolve(false);
		else port.update({baudRate: baud}, error => resolve(!error));
	});
}

const wait = (ms: number): Promise<void> =>
	new Promise(resolve => {
		setTimeout(resolve, ms);
	});
