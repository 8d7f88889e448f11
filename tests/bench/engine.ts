import {spawnSync} from 'node:child_process';

/**
 * What one frame costs the engine alone, without files and start-up, and what it allocates, measured in a process of its
 * own that is told not to collect garbage in between.
 */
export function benchEngine(): void {
	const result = spawnSync(
		process.execPath,
		['--expose-gc', '--max-semi-space-size=256', 'tests/tools/run.mjs', 'tests/bench/engine-run.ts'],
		{encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit']},
	);
	process.stdout.write(result.stdout);
}
