// Runs a TypeScript program of the test side: bundles it with esbuild next to node_modules, then imports it.
// Usage: node tests/tools/run.mjs tests/bench/bench.ts [arguments]
import {mkdtempSync, rmSync} from 'node:fs';
import path from 'node:path';
import {pathToFileURL} from 'node:url';
import {build} from 'esbuild';

const [entry, ...rest] = process.argv.slice(2);
if (entry === undefined) {
	process.stderr.write('Name a program to run, such as tests/bench/bench.ts.\n');
	process.exit(2);
}
// Inside node_modules, so that packages that stay outside the bundle are found.
const folder = mkdtempSync(path.join('node_modules', '.run-'));
process.on('exit', () => rmSync(folder, {recursive: true, force: true}));
const outfile = path.join(folder, 'program.mjs');
await build({
	entryPoints: [entry],
	outfile,
	bundle: true,
	format: 'esm',
	platform: 'node',
	target: 'node20',
	packages: 'external',
	logLevel: 'warning',
});
process.argv = [process.argv[0], entry, ...rest];
await import(pathToFileURL(path.resolve(outfile)).href);
