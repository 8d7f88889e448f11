import {mkdtempSync, rmSync} from 'node:fs';
import path from 'node:path';
import {fileURLToPath, pathToFileURL} from 'node:url';
import {build} from 'esbuild';

const root = fileURLToPath(new URL('../..', import.meta.url));

/**
 * Bundles a TypeScript program with esbuild and imports it.
 *
 * @param {string} entry Its file, from the current folder.
 */
export async function runBundled(entry) {
	// Inside node_modules, so that packages that stay outside the bundle are found.
	const folder = mkdtempSync(path.join(root, 'node_modules', '.run-'));
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
	await import(pathToFileURL(outfile).href);
}
