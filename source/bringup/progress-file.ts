import {open, readFile, rename, rm} from 'node:fs/promises';
import {CannotError} from '../cannot-error.ts';
import {syncFolder} from '../sync-folder.ts';
import type {StepRecord} from './step-record.ts';

type Progress = {
	readonly bringUpProgress: 1;
	readonly columns: readonly string[];
	readonly records: readonly StepRecord[];
};

/** Where a broken-off routine is kept: next to the as-built sheet. */
export function progressPath(asBuiltPath: string): string {
	return `${asBuiltPath.replace(/\.toml$/i, '')}.progress.json`;
}

/** The steps done before, for a stream with these columns; undefined where there is no such file. Throws `CannotError` for one that cannot be used. */
export async function readProgress(path: string): Promise<Progress | undefined> {
	let text: string;
	try {
		text = await readFile(path, 'utf8');
	} catch (error) {
		if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
		throw new CannotError(`Cannot read ${path}: ${(error as Error).message}. --fresh begins anew without it.`);
	}

	try {
		const progress = JSON.parse(text) as Progress;
		const isRecord = (record: StepRecord) => typeof record?.id === 'string' && typeof record.outcome === 'string';
		if (progress.bringUpProgress === 1 && Array.isArray(progress.columns) && progress.records.every(isRecord)) {
			return progress;
		}
	} catch {
		// Said below.
	}

	throw new CannotError(`${path} is damaged and cannot be gone on from: delete it, or begin anew with --fresh.`);
}

/**
 * Keeps the steps done so far. The file is whole at every moment, also after a power cut: written beside it and brought
 * to the disk first, then renamed.
 */
export async function writeProgress(
	path: string,
	columns: readonly string[],
	records: readonly StepRecord[],
): Promise<void> {
	const progress: Progress = {bringUpProgress: 1, columns, records};
	const file = await open(`${path}.new`, 'w');
	try {
		await file.writeFile(`${JSON.stringify(progress)}\n`);
		await file.sync();
	} finally {
		await file.close();
	}

	await rename(`${path}.new`, path);
	await syncFolder(path);
}

/** The routine is over: nothing is left to go on from. */
export async function removeProgress(path: string): Promise<void> {
	await rm(path, {force: true});
}
