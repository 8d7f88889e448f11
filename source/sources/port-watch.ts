import type {ItemQueue} from './item-queue.ts';
import type {LiveClock} from './live-clock.ts';
import type {PortDescription} from './port-list.ts';
import type {OpenPort, SerialHost} from './serial.ts';

/** How often a silent port is looked for, and a lost one. */
const lookEveryMs = 250;

/** A port that goes this soon after opening did not go because of a cable. */
const soonSeconds = 2;

/** What a port was opened as, and is to be opened as again. */
type PortSettings = {
	readonly path: string;
	readonly baud: number;
	readonly noReset: boolean;
	/** Once it is lost, wait for it to come back. */
	readonly reattach: boolean;
	/** What is known of it, to tell it again under another name. */
	readonly known: PortDescription | undefined;
};

/**
 * Hands on what an open port receives, notices when it has gone, also where nobody says so, and takes it up again where
 * that is wanted. Defects end the queue with their error.
 */
export class PortWatch {
	readonly #settings: PortSettings;
	readonly #host: SerialHost;
	readonly #queue: ItemQueue;
	readonly #clock: LiveClock;
	#port: OpenPort | undefined;
	#openedAt = 0;
	/** The name that it has now. */
	#current: string;
	/** Bytes came since the last look. */
	#heard = false;
	#stopped = false;
	#lost = false;
	#timer: NodeJS.Timeout | undefined;

	constructor(settings: PortSettings, host: SerialHost, queue: ItemQueue, clock: LiveClock) {
		this.#settings = settings;
		this.#host = host;
		this.#queue = queue;
		this.#clock = clock;
		this.#current = settings.path;
	}

	attend(port: OpenPort): void {
		this.#port = port;
		this.#lost = false;
		port.on('data', bytes => {
			this.#heard = true;
			this.#queue.push({t: this.#clock(), bytes});
		});
		for (const event of ['close', 'error'] as const) {
			port.on(event, error => {
				if (port === this.#port) this.lose(error ?? undefined);
			});
		}

		this.#later(() => this.#look());
	}

	/** Closes the port, if it is there; nothing more is looked for. */
	async stop(): Promise<void> {
		this.#stopped = true;
		clearTimeout(this.#timer);
		if (!this.#lost && this.#port !== undefined) await closePort(this.#port);
	}

	/** The port has gone: says so, and ends, or waits for it. */
	lose(error?: Error): void {
		if (this.#lost || this.#stopped) return;
		this.#lost = true;
		clearTimeout(this.#timer);
		const t = this.#clock();
		const detail = `${this.#current} is gone${whyGone(error)}.${hintFor(t - this.#openedAt)}`;
		this.#queue.push({t, event: 'port-lost', detail});
		if (this.#port !== undefined) void closePort(this.#port);
		if (this.#settings.reattach) this.#later(() => this.#lookForReturn());
		else this.#queue.end();
	}

	#later(step: () => Promise<void>): void {
		if (this.#stopped || this.#queue.over) return;
		this.#timer = setTimeout(() => {
			step().catch(error => this.#queue.fail(error));
		}, this.#host.lookEveryMs ?? lookEveryMs);
	}

	async #look(): Promise<void> {
		const silent = !this.#heard;
		this.#heard = false;
		if (silent && !this.#lost && !(await this.#host.isThere(this.#current)) && !this.#heard) this.lose();
		if (!this.#lost) this.#later(() => this.#look());
	}

	async #lookForReturn(): Promise<void> {
		const candidate = await findAgain(this.#settings, this.#host);
		if (candidate === undefined || this.#stopped || !(await this.#takeUp(candidate)))
			this.#later(() => this.#lookForReturn());
	}

	/** Opens it under a name; false where that does not work yet. */
	async #takeUp(path: string): Promise<boolean> {
		const {baud, noReset} = this.#settings;
		try {
			const opened = await this.#host.open(path, baud, noReset);
			if (this.#stopped) await closePort(opened);
			else {
				this.#openedAt = this.#clock();
				this.#current = path;
				this.#queue.push({t: this.#openedAt, event: 'reattached', detail: `${path} is back.`});
				this.attend(opened);
			}

			return true;
		} catch {
			// Its permissions come a moment after its name; the next look tries again.
			return false;
		}
	}
}

/** What the system says of a descriptor whose device has gone helps nobody. */
function whyGone(error: Error | undefined): string {
	const words = error?.message.replaceAll(/\s+/g, ' ') ?? '';
	return words === '' || /bad file descriptor/i.test(words) ? '' : ` (${words})`;
}

function hintFor(openSeconds: number): string {
	return openSeconds < soonSeconds
		? ' It went right after it was opened: another service may have taken it, such as one that looks for modems or braille displays, or the board restarts or draws too much.'
		: ' Check the cable and its plugs.';
}

/** Never rejects: a port that is gone cannot be closed, and need not be. */
function closePort(port: OpenPort): Promise<void> {
	return new Promise(resolve => {
		port.close(() => resolve());
	});
}

/** The name that a lost port has now: of the same USB device, else the same as before. */
async function findAgain({path, known}: PortSettings, host: SerialHost): Promise<string | undefined> {
	if (known?.serialNumber) {
		const ports = await host.listPorts().catch(() => []);
		const same = ports.find(
			port =>
				port.serialNumber === known.serialNumber &&
				port.vendorId === known.vendorId &&
				port.productId === known.productId,
		);
		return same?.path;
	}

	return (await host.isThere(path)) ? path : undefined;
}
