import {writeFile} from 'node:fs/promises';
import {CannotError} from '../cannot-error.ts';
import {whyNotCreated} from '../recording/recording-errors.ts';
import {parsePoseSettings, simulatePoses} from './simulated-poses.ts';

/**
 * `simulate --poses FILE`: a log of a tracker's poses with the truth in its head. Resolves to the number of lines. Throws
 * `CannotError` for settings that cannot be, and for a file that cannot be written.
 */
export async function writeSimulatedPoses(
	path: string,
	tracker: string,
	seed: number,
	force: boolean,
): Promise<number> {
	const settings = parsePoseSettings(tracker);
	const command = `glovebench simulate --poses FILE --seed ${seed}${tracker === '' ? '' : ` --tracker '${tracker}'`}`;
	const {lines} = simulatePoses(settings, seed, command);
	try {
		await writeFile(path, `${lines.join('\n')}\n`, {flag: force ? 'w' : 'wx'});
	} catch (error) {
		throw new CannotError(whyNotCreated(path, error as NodeJS.ErrnoException));
	}
	return lines.length;
}
