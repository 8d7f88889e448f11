import {mkdtempSync, rmSync} from 'node:fs';
import {cpus, loadavg, tmpdir} from 'node:os';
import path from 'node:path';
import {benchCheckGrowth, benchCheckHour, benchCheckTenHours} from './check-hour.ts';
import {benchColumns} from './columns.ts';
import {benchDashboard} from './dashboard.ts';
import {benchDay} from './day.ts';
import {benchEngine} from './engine.ts';
import {benchFrames} from './frames.ts';
import {benchLive} from './live.ts';
import {benchRatios} from './ratios.ts';
import {benchScreenDelay} from './screen-delay.ts';
import {benchSeek} from './seek.ts';
import {benchStartUp} from './start-up.ts';
import {benchThroughPipe} from './through-pipe.ts';

const parts: Readonly<Record<string, (folder: string) => void | Promise<void>>> = {
	ratios: benchRatios,
	check: benchCheckHour,
	growth: benchCheckGrowth,
	columns: benchColumns,
	pipe: benchThroughPipe,
	'ten-hours': benchCheckTenHours,
	engine: benchEngine,
	live: benchLive,
	day: benchDay,
	dashboard: benchDashboard,
	delay: benchScreenDelay,
	seek: benchSeek,
	frames: benchFrames,
	'start-up': benchStartUp,
};

// Figures of one run on one machine, to be read as ratios and against the goals; never a test.
// `npm run bench -- seek start-up` runs those parts only.
const asked = process.argv.slice(2);
const unknown = asked.find(name => !(name in parts));
if (unknown !== undefined) {
	console.error(`There is no part "${unknown}": it takes ${Object.keys(parts).join(', ')}.`);
	process.exit(2);
}

const folder = mkdtempSync(path.join(tmpdir(), 'glovebench-bench-'));
try {
	const [processor] = cpus();
	console.log(
		`Node ${process.version}, ${process.platform} ${process.arch}, ${cpus().length} × ${processor?.model.trim()}, load ${loadavg()[0]?.toFixed(1)}`,
	);
	for (const [name, run] of Object.entries(parts)) {
		if (asked.length > 0 && !asked.includes(name)) continue;
		console.log('');
		await run(folder);
	}
} finally {
	rmSync(folder, {recursive: true, force: true});
}
process.exit(0);
