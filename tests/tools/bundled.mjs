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
	// As deep as the folders it is bundled from, so that what they name by `../../` is found, and so are packages. Not in node_modules:
	// where that is a link, `../../` would lead into another copy of the project.
	const folder = mkdtempSync(path.join(root, 'tests', '.run-'));
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
