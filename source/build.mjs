// Bundles the command line into dist/. One entry, split into chunks, so that a
// command loads only its own part: `check` never reads Ink or React from disk.
import {rmSync} from 'node:fs';
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
