import {execFile} from 'node:child_process';
import {promisify} from 'node:util';

const run = promisify(execFile);
const root = new URL('../..', import.meta.url).pathname;

/**
 * Digests of every report on these samples as `report-digests.ts` names them, a line each, with their bytes cut into pieces of so
 * many. What is around the program may be otherwise; whether it really is shows in what Node says of itself.
 */
export async function digestsIn(names: readonly string[], environment: Record<string, string>, cutBytes?: number) {
	const env = {PATH: process.env.PATH ?? '', ...environment};
	const cut = cutBytes === undefined ? [] : ['--cut', String(cutBytes)];
	const [{stdout}, {stdout: surroundings}] = await Promise.all([
		run(process.execPath, ['tests/tools/run.mjs', 'tests/tools/report-digests.ts', ...cut, ...names], {cwd: root, env}),
		run(process.execPath, ['-p', 'new Date(0).toTimeString() + (1234.5).toLocaleString()'], {env}),
	]);
	return {digests: stdout.split('\n').filter(Boolean), surroundings};
}
