import {type ChildProcess, spawn} from 'node:child_process';
import {once} from 'node:events';
import {mkdtempSync, renameSync, rmSync, symlinkSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {numberedLine} from './numbered-glove.ts';

/** A port with one name over many pluggings, as a link below /dev/serial/by-id is. */
export class RoughPort {
	readonly folder = mkdtempSync(join(tmpdir(), 'rough-port-'));
	readonly path = join(this.folder, 'glove');
	#device: ChildProcess | undefined;
	#timer: NodeJS.Timeout | undefined;
	#n = 0;

	/** Lines sent so far, over all pluggings. */
	get sentLines(): number {
		return this.#n;
	}

	/** @param args What the device is told, see device.mjs. */
	async plugIn(...args: readonly string[]): Promise<void> {
		const device = spawn(process.execPath, [join(import.meta.dirname, 'device.mjs'), ...args], {
			stdio: ['pipe', 'pipe', 'inherit'],
		});
		// What is on its way when the cable is pulled is lost, as it should be.
		device.stdin.on('error', () => {});
		this.#device = device;
		const [name] = await once(device.stdout, 'data');
		symlinkSync(String(name).trim(), `${this.path}.new`);
		renameSync(`${this.path}.new`, this.path);
	}

	send(data: string | Buffer): void {
		this.#device?.stdin?.write(data);
	}

	/** Numbered lines, one every so often, until the cable is pulled or `hush`. */
	stream(everyMs: number): void {
		this.hush();
		this.#timer = setInterval(() => this.send(numberedLine(this.#n++)), everyMs);
	}

	/** The counter begins anew, as after a reset. */
	restart(): void {
		this.#n = 0;
	}

	hush(): void {
		clearInterval(this.#timer);
	}

	async unplug(): Promise<void> {
		this.hush();
		rmSync(this.path, {force: true});
		const device = this.#device;
		this.#device = undefined;
		if (!device) return;
		const gone = once(device, 'exit');
		device.kill('SIGKILL');
		await gone;
	}

	async remove(): Promise<void> {
		await this.unplug();
		rmSync(this.folder, {recursive: true, force: true});
	}
}
