import {spawn} from 'node:child_process';
import {writeFileSync} from 'node:fs';
import path from 'node:path';
import {build} from 'esbuild';
import {wait} from './process-watch.ts';
import {ProgramInPty} from './program-in-pty.ts';
import {median, rounds} from './timed.ts';

/** Twelve channels, as the engine's hour has them. */
export const twelveChannels = 'thumb,index,middle,ring,little,stick-x,stick-y,button-1,button-2,button-3,counter,clock';

/** Redraws a second of both: the dashboard's own pace. */
const fps = 10;

/** The compiler is at work for so long; its share is told apart. */
const warmUpMs = 20_000;
const windowMs = 5_000;

type Figures = {readonly warmUpCpu: number; readonly cpu: number; readonly bytesPerSecond: number};

/**
 * The smallest Ink program that redraws as many lines at the same pace: one text, a number in each line that changes
 * each time. Bundled as the product is.
 */
const smallestInk = `
import {createElement} from 'react';
import {render, Text} from 'ink';
let n = 0;
const frame = () => createElement(Text, null, Array.from({length: process.stdout.rows - 1}, (_, y) =>
	('line ' + y + ' reads ' + (n * (y + 7)) % 1024 + ' ').padEnd(process.stdout.columns - 1, '.')).join('\\n'));
const app = render(frame());
setInterval(() => { n++; app.rerender(frame()); }, ${1000 / fps});
`;

async function bundleSmallestInk(folder: string): Promise<string> {
	await build({
		stdin: {contents: smallestInk, resolveDir: process.cwd()},
		outdir: folder,
		outExtension: {'.js': '.mjs'},
		bundle: true,
		splitting: true,
		format: 'esm',
		platform: 'node',
		target: 'node20',
		minifySyntax: true,
		external: ['react-devtools-core'],
		define: {'process.env.NODE_ENV': '"production"'},
		banner: {
			js: "import {createRequire as __createRequire} from 'node:module'; const require = __createRequire(import.meta.url);",
		},
		logLevel: 'error',
	});
	return path.join(folder, 'stdin.mjs');
}

/** A simulated glove of twelve channels at 100 frames a second on a local port. */
export async function serveGlove(script: string): Promise<{readonly address: string; end(): void}> {
	const args = ['dist/cli.js', 'simulate', '--listen', '0', '--layout', twelveChannels, '--script', script];
	const glove = spawn(process.execPath, [...args, '--for', '1h'], {stdio: ['ignore', 'ignore', 'pipe']});
	const address = await new Promise<string>((resolve, reject) => {
		let said = '';
		glove.stderr.on('data', (data: Buffer) => {
			said += data;
			const found = /tcp:\/\/\S+:\d+/.exec(said);
			if (found) resolve(found[0]);
		});
		glove.on('exit', () => reject(new Error(said)));
	});
	return {address, end: () => void glove.kill()};
}

async function watch(program: ProgramInPty): Promise<Figures> {
	const share = async (ms: number) => {
		const before = {cpu: program.cpuSeconds, bytes: program.bytes, at: performance.now()};
		await wait(ms);
		const seconds = (performance.now() - before.at) / 1000;
		return {cpu: (program.cpuSeconds - before.cpu) / seconds, bytes: (program.bytes - before.bytes) / seconds};
	};
	const warmUp = await share(warmUpMs);
	const windows: Awaited<ReturnType<typeof share>>[] = [];
	for (let round = 0; round < rounds; round++) windows.push(await share(windowMs));
	program.end();
	return {
		warmUpCpu: warmUp.cpu,
		cpu: median(windows.map(({cpu}) => cpu)),
		bytesPerSecond: median(windows.map(({bytes}) => bytes)),
	};
}

async function firstPaint(args: readonly string[], size: {columns: number; rows: number}): Promise<number> {
	const program = new ProgramInPty(args, size);
	await program.until(() => !Number.isNaN(program.firstPaintMs));
	program.end();
	return program.firstPaintMs;
}

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

/**
 * Start to first paint, share of a core and bytes to the terminal, at two sizes, on a moving and on an idle hand, and
 * the same of the smallest Ink program: ratios to it.
 */
export async function benchDashboard(folder: string): Promise<void> {
	const ink = await bundleSmallestInk(folder);
	for (const size of [
		{columns: 80, rows: 24},
		{columns: 140, rows: 45},
	]) {
		const attach = (address: string) => ['dist/cli.js', 'attach', address];
		const moving = await serveGlove('play 3600s');
		const idle = await serveGlove('rest 3600s');
		const paints = {ours: [] as number[], ink: [] as number[], node: [] as number[]};
		const bare = path.join(folder, 'bare.cjs');
		writeFileSync(bare, "process.stdout.write('painted')");
		for (let round = 0; round < rounds; round++) {
			paints.node.push(await firstPaint([bare], size));
			paints.ink.push(await firstPaint([ink], size));
			paints.ours.push(await firstPaint(attach(moving.address), size));
		}

		const watched: Record<'smallest Ink program' | 'moving hand' | 'idle hand', Figures> = {
			'smallest Ink program': await watch(new ProgramInPty([ink], size)),
			'moving hand': await watch(new ProgramInPty(attach(moving.address), size)),
			'idle hand': await watch(new ProgramInPty(attach(idle.address), size)),
		};
		moving.end();
		idle.end();

		const reference = watched['smallest Ink program'];
		const [ours, inks, node] = [median(paints.ours), median(paints.ink), median(paints.node)];
		console.log(`dashboard at ${size.columns} x ${size.rows}, attached to 100 frames/s x 12 channels`);
		console.log(
			`  start to first paint ${ours.toFixed(0)} ms = ${(ours / inks).toFixed(2)} x the smallest Ink program (${inks.toFixed(0)} ms), ${(ours / node).toFixed(2)} x bare Node (${node.toFixed(0)} ms)`,
		);
		for (const [name, figures] of Object.entries(watched)) {
			const kilobytes = (figures.bytesPerSecond / 1000).toFixed(2);
			console.log(
				`  ${name.padEnd(20)} ${percent(figures.cpu).padStart(6)} of a core (${percent(figures.warmUpCpu)} in the first ${warmUpMs / 1000} s), ${kilobytes} kB/s; ratios ${(figures.cpu / reference.cpu).toFixed(2)} and ${(figures.bytesPerSecond / reference.bytesPerSecond).toFixed(3)}`,
			);
		}
	}

	console.log('  goals at 80 x 24: at most 5 % of a core, 5 kB/s moving, 0.5 kB/s idle');
}
