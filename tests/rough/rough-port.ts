import {mkdtempSync, renameSync, rmSync, symlinkSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {openPseudoPort, type PseudoPort} from '../sources/pseudo-port.ts';
import {numberedLine} from './numbered-glove.ts';

/** A port with one name over many pluggings, as a link below /dev/serial/by-id is. */
export class RoughPort {
	readonly folder = mkdtempSync(join(tmpdir(), 'rough-port-'));
	readonly path = join(this.folder, 'glove');
	#port: PseudoPort | undefined;
	#timer: NodeJS.Timeout | undefined;
	#n = 0;

	/** Lines sent so far, over all pluggings. */
	get sentLines(): number {
		return this.#n;
	}

	plugIn(): void {
		this.#port = openPseudoPort();
		symlinkSync(this.#port.path, `${this.path}.new`);
		renameSync(`${this.path}.new`, this.path);
	}

	send(data: string | Buffer): void {
		this.#port?.send(data);
	}

	/** Numbered lines, one every so often, until the cable is pulled or `hush`. */
	stream(everyMs: number): void {
		this.hush();
		this.#timer = setInterval(() => this.send(numberedLine(this.#n++)), everyMs);
	}

	hush(): void {
		clearInterval(this.#timer);
	}

	async unplug(): Promise<void> {
		this.hush();
		rmSync(this.path, {force: true});
		await this.#port?.unplug();
		this.#port = undefined;
	}

	async remove(): Promise<void> {
		await this.unplug();
		rmSync(this.folder, {recursive: true, force: true});
	}
}
