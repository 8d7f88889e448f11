import {writeFileSync} from 'node:fs';
import path from 'node:path';
import {type Program, timeInTurn} from './timed.ts';

const runs = 11;

/** Start-up of commands against Node with nothing to do: wall-clock and processor time, medians. */
export function benchStartUp(folder: string): void {
	const small = path.join(folder, 'small.csv');
	writeFileSync(
		small,
		Array.from({length: 300}, (_, n) => `${500 + (n % 7)},${400 + (n % 5)},512,511,510\r\n`).join(''),
	);
	const cli = (...args: string[]): Program => [process.execPath, 'dist/cli.js', ...args];
	const timed = timeInTurn(
		{
			'node -e 0': [process.execPath, '-e', '0'],
			'--help': cli('--help'),
			ports: cli('ports'),
			'check, 300 lines': cli('check', small),
		},
		runs,
	);
	const bare = timed['node -e 0'];
	console.log(`start-up, medians of ${runs}`);
	for (const [name, run] of Object.entries(timed)) {
		if (run === undefined || bare === undefined) continue;
		console.log(
			`  ${name.padEnd(18)} ${(1000 * run.seconds).toFixed(0).padStart(4)} ms (${(run.seconds / bare.seconds).toFixed(2)} x), processor ${(1000 * run.cpuSeconds).toFixed(0)} ms (${(run.cpuSeconds / bare.cpuSeconds).toFixed(2)} x)`,
		);
	}
}
