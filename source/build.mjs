// Bundles the command line into dist/. One entry, split into chunks, so that a
// command loads only its own part: `check` never reads Ink or React from disk.
import {readFileSync, rmSync, writeFileSync} from 'node:fs';
import {build} from 'esbuild';

rmSync('dist', {recursive: true, force: true});

await build({
	entryPoints: ['source/cli.ts'],
	outdir: 'dist',
	bundle: true,
	splitting: true,
	format: 'esm',
	platform: 'node',
	target: 'node20',
	minifySyntax: true,
	// The serial bindings load a prebuilt addon from their own folder.
	external: ['serialport', 'react-devtools-core'],
	define: {'process.env.NODE_ENV': '"production"'},
	// Bundled CommonJS packages call require() for Node's own modules.
	banner: {
		js: "import {createRequire as __createRequire} from 'node:module'; const require = __createRequire(import.meta.url);",
	},
	logLevel: 'warning',
});

// The manual page, from the same table as the help.
const {outputFiles} = await build({
	entryPoints: ['source/command-line/man-page.ts'],
	bundle: true,
	format: 'esm',
	platform: 'node',
	target: 'node20',
	write: false,
	logLevel: 'warning',
});
const {manPage} = await import(
	`data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString('base64')}`
);
writeFileSync('dist/glovebench.1', manPage(JSON.parse(readFileSync('package.json', 'utf8'))));
