import {mkdtempSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {afterAll, beforeAll} from 'vitest';
import type {ProgramOnScreen} from '../screen/program-on-screen.ts';
import {NumberedGlove} from './numbered-glove.ts';

export type RoughBench = {
	readonly folder: string;
	/** Where the glove listens; known once the tests run. */
	readonly address: string;
	/** Keeps a program in mind, to be ended after the tests if it still runs. */
	keep(program: ProgramOnScreen): ProgramOnScreen;
};

/**
 * A folder, and a glove on the network that sends a numbered line every so often, for the tests of the file where it is called. After
 * them all programs are ended, then `before` is done, and the folder is removed.
 */
export function roughBench(everyMs: number, before: () => void = () => {}): RoughBench {
	const folder = mkdtempSync(join(tmpdir(), 'rough-'));
	const glove = new NumberedGlove(everyMs);
	const programs: ProgramOnScreen[] = [];
	let address = '';
	beforeAll(async () => {
		address = await glove.listen();
	});
	afterAll(() => {
		for (const program of programs) program.dispose();
		glove.close();
		before();
		rmSync(folder, {recursive: true, force: true});
	});
	return {
		folder,
		get address() {
			return address;
		},
		keep(program) {
			programs.push(program);
			return program;
		},
	};
}
