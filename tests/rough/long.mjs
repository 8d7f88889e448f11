// The tests of this folder with all their tries, and a table of how many there were: `node tests/rough/long.mjs [FILE]`,
// after `npm run build`. Takes about ten minutes. As root on Linux nothing is left out (small disks, a network
// of its own). The table also goes to FILE.
import {spawnSync} from 'node:child_process';
import {mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {fileURLToPath} from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'rough-'));
const tallies = join(folder, 'tally.ndjson');
writeFileSync(tallies, '');
const vitest = join(root, 'node_modules/vitest/vitest.mjs');
const {status} = spawnSync(
	process.execPath,
	[vitest, 'run', '--config', 'tests/vitest.config.ts', 'tests/rough', '--no-file-parallelism', '--reporter=verbose'],
	{cwd: root, stdio: 'inherit', env: {...process.env, TESTS: 'rough', ROUGH: 'long', ROUGH_TALLY: tallies}},
);

const counts = new Map();
const figures = new Map();
for (const line of readFileSync(tallies, 'utf8').split('\n').filter(Boolean)) {
	const {what, count, value} = JSON.parse(line);
	if (value === undefined) counts.set(what, (counts.get(what) ?? 0) + count);
	else figures.set(what, Math.max(figures.get(what) ?? value, value));
}

rmSync(folder, {recursive: true});
const rows = [...counts, ...figures].map(([what, number]) => `${String(number).padStart(6)}  ${what}`);
const table = `${rows.join('\n')}\n${status === 0 ? 'All held.' : 'Not all held: see above.'}\n`;
process.stdout.write(`\n${table}`);
const [file] = process.argv.slice(2);
if (file !== undefined) writeFileSync(file, table);
process.exitCode = status ?? 1;
