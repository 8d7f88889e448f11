// Bundles run.ts and runs it: `node tests/accuracy/run.mjs [flags]`. The command line must have been built before.
import {mkdtempSync, rmSync} from 'node:fs';
import {join} from 'node:path';
import {fileURLToPath, pathToFileURL} from 'node:url';
import {build} from 'esbuild';

const here = fileURLToPath(new URL('.', import.meta.url));
const root = join(here, '../..');
/** Sections by name; without one, how right the findings are. */
const sections = {
	mount: '../mount/accuracy.ts',
	link: '../link/accuracy.ts',
	ruler: '../ruler/accuracy.ts',
	frames: '../frames/accuracy.ts',
	stale: 'measure-stale.ts',
};
const name = process.argv.find(argument => Object.hasOwn(sections, argument));
const entry = name === undefined ? (process.argv.includes('--learning') ? 'learning.ts' : 'run.ts') : sections[name];
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
