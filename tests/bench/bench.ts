import {mkdtempSync, rmSync} from 'node:fs';
import {cpus, tmpdir} from 'node:os';
import path from 'node:path';
import {benchCheckHour} from './check-hour.ts';
import {benchDashboard} from './dashboard.ts';

// Figures of one run on one machine, to be read as ratios and against the goals; never a test.
const folder = mkdtempSync(path.join(tmpdir(), 'glovebench-bench-'));
try {
	console.log(`Node ${process.version}, ${cpus().length} cores\n`);
	benchCheckHour(folder);
	console.log('');
	await benchDashboard(folder);
} finally {
	rmSync(folder, {recursive: true, force: true});
}
process.exit(0);
