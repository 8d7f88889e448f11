// Bundles run.ts and runs it: `node tests/accuracy/run.mjs [flags]`. The command line must have been built before.
import {mkdtempSync, rmSync} from 'node:fs';
import {join} from 'node:path';
import {fileURLToPath, pathToFileURL} from 'node:url';
import {build} from 'esbuild';

const here = fileURLToPath(new URL('.', import.meta.url));
const root = join(here, '../..');
/** `mount` measures how a tracker is found on the hand; everything else findings. */
const entry = process.argv.includes('mount')
	? '../mount/accuracy.ts'
	: process.argv.includes('--learning')
		? 'learning.ts'
		: 'run.ts';
process.chdir(root);
// Inside node_modules, so that packages left out of the bundle are found.
const folder = mkdtempSync(join(root, 'node_modules/.accuracy-'));
const outfile = join(folder, 'run.mjs');
try {
	await build({
		entryPoints: [join(here, entry)],
		outfile,
		bundle: true,
		format: 'esm',
		platform: 'node',
		target: 'node20',
		packages: 'external',
		logLevel: 'warning',
	});
	await import(pathToFileURL(outfile).href);
} finally {
	rmSync(folder, {recursive: true, force: true});
}
