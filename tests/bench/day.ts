import {spawnSync} from 'node:child_process';

/** Whether a day of a live glove leaves memory flat: 24 hours of virtual time through one session, in its own process. */
export function benchDay(): void {
	const result = spawnSync(process.execPath, ['--expose-gc', 'tests/tools/run.mjs', 'tests/bench/day-run.ts'], {
		encoding: 'utf8',
		stdio: ['ignore', 'pipe', 'inherit'],
	});
	process.stdout.write(result.stdout);
}
