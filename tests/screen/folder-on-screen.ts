import {mkdtempSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {glovebench, type ProgramOnScreen, type ScreenOptions} from './program-on-screen.ts';

/** The program on a screen, in a folder of its own; a test makes one, and disposes of it. */
export class FolderOnScreen {
	readonly folder = mkdtempSync(path.join(tmpdir(), 'screen-'));
	#program: ProgramOnScreen | undefined;

	/** Starts the program in the folder; the one started before is ended if it still runs. */
	start(args: readonly string[], options: ScreenOptions = {}): ProgramOnScreen {
		this.#program?.dispose();
		this.#program = glovebench(args, {cwd: this.folder, ...options});
		return this.#program;
	}

	dispose(): void {
		this.#program?.dispose();
		rmSync(this.folder, {recursive: true});
	}
}
