// Makes every sample again: node recordings/make.mjs [name…]. The settings stand in samples.json, those of the guided
// routine in bring-up-samples.json; each recording's header says what makes it, and a test holds the files to that.
import {mkdtempSync, readFileSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {fileURLToPath, pathToFileURL} from 'node:url';
import {build} from 'esbuild';

const here = fileURLToPath(new URL('.', import.meta.url));
const settings = file => JSON.parse(readFileSync(join(here, file), 'utf8'));
const samples = settings('samples.json');
const bringUpSamples = settings('bring-up-samples.json');
const wanted = process.argv.slice(2);
const isWanted = name => wanted.length === 0 || wanted.includes(name);
const unknown = wanted.filter(name => !(name in samples || name in bringUpSamples));
if (unknown.length > 0) {
	console.error(`No settings for ${unknown.join(', ')} in samples.json or bring-up-samples.json.`);
	process.exit(2);
}

const folder = mkdtempSync(join(tmpdir(), 'samples-'));

async function bundled(path) {
	const outfile = join(folder, `${path.split('/').pop()}.mjs`);
	await build({
		entryPoints: [join(here, '..', `${path}.ts`)],
		outfile,
		bundle: true,
		format: 'esm',
		platform: 'node',
		target: 'node20',
		logLevel: 'warning',
		banner: {
			js: "import {createRequire as __createRequire} from 'node:module'; const require = __createRequire(import.meta.url);",
		},
	});
	return import(pathToFileURL(outfile).href);
}

try {
	const {simulateCommand} = await bundled('source/commands/simulate');
	for (const [name, options] of Object.entries(samples)) {
		if (!isWanted(name)) continue;
		const settled = {rate: 50, for: 25, ...options, output: join(here, `${name}.gbrec`), force: true};
		await simulateCommand(settled, {
			stdout: process.stdout,
			stderr: process.stderr,
			signal: new AbortController().signal,
		});
	}
	const {recordSample} = await bundled('tests/gloves/record-sample');
	for (const [name, sample] of Object.entries(bringUpSamples)) {
		if (!isWanted(name)) continue;
		await recordSample(name, sample, join(here, `${name}.gbrec`));
		console.error(`${name}.gbrec: a whole bring-up.`);
	}
} finally {
	rmSync(folder, {recursive: true});
}
