// Makes every sample again: node recordings/make.mjs [name…]. The settings stand in samples.json; each recording's
// header holds the command that makes it, and a test holds the files against their commands.
import {mkdtempSync, readFileSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {fileURLToPath, pathToFileURL} from 'node:url';
import {build} from 'esbuild';

const here = fileURLToPath(new URL('.', import.meta.url));
const samples = JSON.parse(readFileSync(join(here, 'samples.json'), 'utf8'));
const wanted = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), 'samples-'));
const bundle = join(folder, 'simulate.mjs');

try {
	await build({
		entryPoints: [join(here, '../source/commands/simulate.ts')],
		outfile: bundle,
		bundle: true,
		format: 'esm',
		platform: 'node',
		target: 'node20',
		logLevel: 'warning',
		banner: {
			js: "import {createRequire as __createRequire} from 'node:module'; const require = __createRequire(import.meta.url);",
		},
	});
	const {simulateCommand} = await import(pathToFileURL(bundle).href);
	for (const [name, options] of Object.entries(samples)) {
		if (wanted.length > 0 && !wanted.includes(name)) continue;
		const settled = {rate: 50, for: 25, ...options, output: join(here, `${name}.gbr`), force: true};
		await simulateCommand(settled, {
			stdout: process.stdout,
			stderr: process.stderr,
			signal: new AbortController().signal,
		});
	}
} finally {
	rmSync(folder, {recursive: true});
}
