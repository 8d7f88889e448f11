// Bundles the command line into dist/. One entry, split into chunks, so that a
// command loads only its own part: `check` never reads Ink or React from disk.
import {readFileSync, rmSync, writeFileSync} from 'node:fs';
import {build} from 'esbuild';

/**
 * What dependencies do as they are loaded, put off until somebody asks for it: half of the time that starting takes.
 * meow sets up a normalizer of package.json which it is never asked for here; a segmenter and the pattern of all emoji
 * take Node ten milliseconds each, and most text is ASCII.
 */
const putOff = {
	name: 'put-off',
	setup({onLoad}) {
		const places = [
			[/meow[\\/]build[\\/]dependencies\.js$/, 'requireNormalize();', '() => {};'],
			[
				/node_modules[\\/]string-width[\\/]index\.js$/,
				'new Intl.Segmenter();',
				'{segment: text => (segmenter.made ??= new Intl.Segmenter()).segment(text)};',
				'/^\\p{RGI_Emoji}$/v;',
				// Of single UTF-16 units only some from U+231A to U+2B55 are emoji by themselves (Unicode emoji-data.txt).
				'{test: text => (text.length > 1 || /[\\u231A-\\u2B55]/.test(text)) && (rgiEmojiRegex.made ??= /^\\p{RGI_Emoji}$/v).test(text)};',
			],
		];
		for (const [filter, ...changes] of places) {
			onLoad({filter}, ({path}) => {
				let contents = readFileSync(path, 'utf8');
				const before = contents;
				for (let index = 0; index < changes.length; index += 2) {
					contents = contents.replace(changes[index], () => changes[index + 1]);
				}

				// Another version of the package may do it elsewhere, or not at all.
				const warnings = contents === before ? [{text: `nothing to put off in ${path}`}] : [];
				return {contents, warnings};
			});
		}
	},
};

/** Of package.json only what the program says of itself. */
const manifest = {
	name: 'manifest',
	setup({onLoad}) {
		onLoad({filter: /[\\/]package\.json$/}, ({path}) => {
			const {name, version, description, engines} = JSON.parse(readFileSync(path, 'utf8'));
			return {contents: JSON.stringify({name, version, description, engines}), loader: 'json'};
		});
	},
};

rmSync('dist', {recursive: true, force: true});

// The entry by itself: also a Node that is too old for the rest has to be able to read it, and nothing may be imported
// before it has seen the version.
await build({
	entryPoints: ['source/cli.ts'],
	outfile: 'dist/cli.js',
	bundle: true,
	format: 'esm',
	platform: 'node',
	target: 'es2017',
	plugins: [
		manifest,
		{
			name: 'the-rest',
			setup({onResolve}) {
				onResolve({filter: /^\.\/main\.ts$/}, () => ({path: './main.js', external: true}));
			},
		},
	],
	logLevel: 'warning',
});

await build({
	entryPoints: ['source/main.ts'],
	outdir: 'dist',
	bundle: true,
	splitting: true,
	format: 'esm',
	platform: 'node',
	target: 'node20',
	minifySyntax: true,
	plugins: [putOff, manifest],
	// The serial bindings load a prebuilt addon from their own folder.
	external: ['serialport', 'react-devtools-core'],
	// Ink's layout engine would load Node's whole HTTP client to decode a data URL; without `fetch` it decodes it itself.
	define: {'process.env.NODE_ENV': '"production"', fetch: 'undefined'},
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
