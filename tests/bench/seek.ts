import {spawnSync} from 'node:child_process';
import path from 'node:path';
import pkg from '@xterm/headless';
import {Random} from '../../source/simulator/random.ts';
import {twelveChannels} from './dashboard.ts';
import {wait} from './process-watch.ts';
import {ProgramInPty} from './program-in-pty.ts';
import {quantile} from './screen-delay.ts';

const seeks = 50;

/** From the return key after a time to a screen that stands at that time, in an hour's recording; the whole program. */
export async function benchSeek(folder: string): Promise<void> {
	const file = path.join(folder, 'hour.gbrec');
	const faults = ['--fault', 'dropout:ring@600s-1200s', '--fault', 'floating-input:index@2000s-2500s'];
	const made = ['dist/cli.js', 'simulate', '-o', file, '--for', '1h', '--layout', twelveChannels, ...faults];
	if (spawnSync(process.execPath, made).status !== 0) throw new Error('The recording could not be made.');

	const terminal = new pkg.Terminal({cols: 80, rows: 24, allowProposedApi: true});
	const line = (y: number) => terminal.buffer.active.getLine(y)?.translateToString(true) ?? '';
	const started = performance.now();
	const program = new ProgramInPty(['dist/cli.js', 'replay', file, '--hold'], {columns: 80, rows: 24});
	program.onData(data => terminal.write(data));
	// The ruler is dotted where nothing has been read yet.
	await program.until(() => /held 1x .* \d+:\d\d\S* [^·.]+ \d+:\d\d/.test(line(21)), 120_000);
	const readMs = performance.now() - started;
	await wait(1000);
	const resident = program.residentMib;

	const random = new Random(11);
	const times: number[] = [];
	for (let seek = 0; seek < seeks; seek++) {
		const seconds = Math.floor(random.uniform(0, 1) * 3599);
		const place = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
		program.send(`w${place}`);
		await program.until(() => line(22).includes(`: ${place}_`));
		const asked = performance.now();
		program.send('\r');
		await program.until(() => line(21).includes(` ${place}.0 `));
		times.push(performance.now() - asked);
	}

	program.end();
	console.log(
		`seek in an hour's recording, ${seeks} random places: first ${times[0].toFixed(0)} ms, median ${quantile(times, 0.5).toFixed(0)} ms, 95 % within ${quantile(times, 0.95).toFixed(0)} ms, most ${Math.max(...times).toFixed(0)} ms (goal: 200 ms)`,
	);
	console.log(
		`  read ahead to its end ${(readMs / 1000).toFixed(1)} s after the start; resident memory then ${resident.toFixed(0)} MiB (goal: 250)`,
	);
}
