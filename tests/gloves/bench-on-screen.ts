import {mkdtempSync, rmSync, symlinkSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {glovebench, type ProgramOnScreen, type ScreenOptions} from '../screen/program-on-screen.ts';
import {openPseudoPort, type PseudoPort} from '../sources/pseudo-port.ts';
import {BenchFeeder, type BenchOptions} from './bench-feeder.ts';

/** How often the board sends a line: some five times as fast as the hundred a second they stand for. */
const sendEveryMs = 2;

/** Pulls after which a reel that does not answer is given up. */
const mostPulls = 12;

/**
 * Loaded into the program before anything else: its clock for bytes goes on by a line's time with every line that it
 * reads from the port. Time comes with the bytes, however fast they are sent and however busy the machine is.
 */
function clockOfLines(rate: number): string {
	const source = `
		import fs from 'node:fs';
		import {syncBuiltinESMExports} from 'node:module';
		const {readSync} = fs;
		let lines = 0n;
		fs.readSync = (fd, buffer, offset, length, position) => {
			const bytes = readSync(fd, buffer, offset, length, position);
			if (fs.fstatSync(fd).isCharacterDevice()) {
				for (let i = 0; i < bytes; i++) if (buffer[offset + i] === 10) lines++;
			}

			return bytes;
		};
		syncBuiltinESMExports();
		process.hrtime.bigint = () => lines * ${Math.round(1e9 / rate)}n;`;
	return `--import=data:text/javascript,${encodeURIComponent(source)}`;
}

/** The fingers' names in the order of their cords. */
export const cordNames = ['thumb', 'index', 'middle', 'ring', 'little'];

/** How often the terminal's bell (BEL) was rung in what the program wrote. */
export const bellsIn = (raw: string) => raw.split('\u0007').length - 1;

/** A bench at a pseudo-terminal for a port, and the program in front of it on another. */
export class BenchOnScreen {
	readonly folder = mkdtempSync(path.join(tmpdir(), 'bench-'));
	/** The port's name: it stays the same when the cable is pulled and put in again. */
	readonly portPath = path.join(this.folder, 'port');
	readonly feeder: BenchFeeder;
	program!: ProgramOnScreen;
	#port: PseudoPort;
	#timer: NodeJS.Timeout | undefined;

	constructor(options: BenchOptions = {}) {
		this.feeder = new BenchFeeder(options);
		this.#port = openPseudoPort(120);
		symlinkSync(this.#port.path, this.portPath);
	}

	/** Starts the program on the port; the board begins to send once it listens. */
	async start(args: readonly string[], screen: ScreenOptions = {}): Promise<void> {
		clearInterval(this.#timer);
		this.program = glovebench([args[0], this.portPath, ...args.slice(1)], {
			cwd: this.folder,
			...screen,
			env: {NODE_OPTIONS: clockOfLines(this.feeder.rate), ...screen.env},
		});
		await this.program.until('no frame yet');
		this.#send();
	}

	/** Pulls the cable. */
	async unplug(): Promise<void> {
		clearInterval(this.#timer);
		rmSync(this.portPath, {force: true});
		await this.#port.unplug();
	}

	/** Puts it in again; the board starts to send a moment later. */
	async plugIn(): Promise<void> {
		this.#port = openPseudoPort(120);
		symlinkSync(this.#port.path, this.portPath);
		await this.program.until(text => !text.includes('PORT GONE'));
		this.#send();
	}

	/** Pulls a cord, again and again, until the screen shows what is told. */
	async pullUntil(cord: number, shows: string | RegExp): Promise<void> {
		const isThere = (text: string) => (typeof shows === 'string' ? text.includes(shows) : shows.test(text));
		for (let pull = 0; pull < mostPulls && !isThere(this.program.text); pull++) {
			this.feeder.pull(cord);
			await this.program.until(text => isThere(text) || this.feeder.isIdle);
		}

		await this.program.until(shows);
	}

	async dispose(): Promise<void> {
		clearInterval(this.#timer);
		this.program?.dispose();
		await this.#port.unplug();
		rmSync(this.folder, {recursive: true, force: true});
	}

	#send(): void {
		this.#timer = setInterval(() => {
			this.#port.send(this.feeder.next());
		}, sendEveryMs);
	}
}
