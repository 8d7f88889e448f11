// Bundles the command line into dist/. One entry, split into chunks, so that a command loads only its own part: `check`
// never reads Ink or React from disk. With --one-file [FILE]: bundle/glovebench.mjs, the
// whole program but serial ports.
import {execFileSync} from 'node:child_process';
import {mkdirSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {isBuiltin} from 'node:module';
import {dirname, resolve} from 'node:path';
import {build} from 'esbuild';
import {thirdPartyNotices} from './third-party.mjs';

/** Edits of files of packages as they are bundled: which files, and what becomes what. */
const edits = {
	/**
	 * What dependencies do as they are loaded, put off until somebody asks for it: half of the time that starting takes.
	 * meow sets up a normalizer of package.json which it is never asked for here; a segmenter and the pattern of all
	 * emoji take Node ten milliseconds each, and most text is ASCII.
	 */
	meow: [[/meow[\\/]build[\\/]dependencies\.js$/, ['requireNormalize();', '() => {};']]],
	// Of an older version, which has its pattern from another package.
	wrap: [
		[
			/wrap-ansi[\\/]node_modules[\\/]string-width[\\/]index\.js$/,
			['new Intl.Segmenter();', '{segment: text => (segmenter.made ??= new Intl.Segmenter()).segment(text)};'],
		],
	],
	width: [
		[
			/node_modules[\\/]string-width[\\/]index\.js$/,
			['new Intl.Segmenter();', '{segment: text => (segmenter.made ??= new Intl.Segmenter()).segment(text)};'],
			[
				'/^\\p{RGI_Emoji}$/v;',
				// Of single UTF-16 units only some from U+231A to U+2B55 are emoji by themselves (Unicode emoji-data.txt).
				'{test: text => (text.length > 1 || /[\\u231A-\\u2B55]/.test(text)) && (rgiEmojiRegex.made ??= /^\\p{RGI_Emoji}$/v).test(text)};',
			],
		],
	],
	/** Ink connects to a developer's tools where the environment says DEV=true, as build machines do for reasons of their own. */
	ink: [
		[/ink[\\/]build[\\/]utils\.js$/, ["process.env['DEV'] === 'true'", 'false']],
		[/ink[\\/]build[\\/]reconciler\.js$/, ["await import('./devtools.js');", '']],
	],
	/** Looks for addons that would make large messages quicker, unless the environment says not to: it never finds them here. */
	ws: [
		[/ws[\\/]lib[\\/]buffer-util\.js$/, ['!process.env.WS_NO_BUFFER_UTIL', 'false']],
		[/ws[\\/]lib[\\/]validation\.js$/, ['!process.env.WS_NO_UTF_8_VALIDATE', 'false']],
	],
};

/** A plugin that makes the edits of a package and fails where one finds nothing: another version of a package may do it elsewhere. */
const editing = kind => ({
	name: `edit-${kind}`,
	setup({onLoad, onEnd}) {
		const toDo = new Set(edits[kind].map(([filter]) => filter));
		for (const [filter, ...changes] of edits[kind]) {
			onLoad({filter}, ({path}) => {
				let contents = readFileSync(path, 'utf8');
				const errors = [];
				for (const [was, becomes] of changes) {
					if (contents.split(was).length !== 2) errors.push({text: `${path} does not hold once: ${was}`});
					contents = contents.replace(was, () => becomes);
				}

				toDo.delete(filter);
				return {contents, errors};
			});
		}

		onEnd(() => ({errors: [...toDo].map(filter => ({text: `No file of ${kind} is edited: ${filter}`}))}));
	},
});

/** Of package.json only what the program says of itself. */
const manifest = {
	name: 'manifest',
	setup({onLoad}) {
		onLoad({filter: /[\\/]package\.json$/}, ({path}) => {
			if (path !== resolve('package.json')) return undefined;
			const {name, version, description, engines} = JSON.parse(readFileSync(path, 'utf8'));
			return {contents: JSON.stringify({name, version, description, engines}), loader: 'json'};
		});
	},
};

/** The serial bindings are addons, which no single file can hold. */
const withoutSerialPorts = {
	name: 'without-serial-ports',
	setup({onResolve, onLoad}) {
		onResolve({filter: /^serialport$/}, () => ({path: 'serialport', namespace: 'left-out'}));
		onLoad({filter: /.*/, namespace: 'left-out'}, () => ({
			contents: `import {CannotError} from './source/cannot-error.ts';
				throw new CannotError('This single file knows no serial ports: name a recording, a log, tcp://host:port or - (as in \`cat /dev/ttyUSB0 | … -\`), or install glovebench with npm.');`,
			resolveDir: '.',
		}));
	},
};

/** Asks for Node's own modules when the part that wants them is first run: an old Node may not have them all. */
const builtinsLate = {
	name: 'builtins-late',
	setup({onResolve, onLoad}) {
		onResolve({filter: /.*/}, ({path, namespace}) => {
			if (!isBuiltin(path)) return undefined;
			return namespace === 'late' ? {path, external: true} : {path, namespace: 'late'};
		});
		onLoad({filter: /.*/, namespace: 'late'}, ({path}) => ({
			contents: `module.exports = require(${JSON.stringify(path)});`,
		}));
	},
};

const common = {
	bundle: true,
	format: 'esm',
	platform: 'node',
	target: 'node20',
	minifySyntax: true,
	metafile: true,
	// Ink's layout engine would load Node's whole HTTP client to decode a data URL; without `fetch` it decodes it itself.
	define: {'process.env.NODE_ENV': '"production"', fetch: 'undefined'},
	// Bundled CommonJS packages call require() for Node's own modules.
	banner: {
		js: "import {createRequire as __createRequire} from 'module'; const require = __createRequire(import.meta.url);",
	},
	logLevel: 'warning',
};

const packages = [editing('meow'), editing('wrap'), editing('width'), editing('ink'), editing('ws'), manifest];

if (process.argv.includes('--one-file')) {
	await buildOneFile();
} else {
	await buildFolder();
}

async function buildFolder() {
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
		supported: {'import-meta': true},
		plugins: [
			manifest,
			{
				name: 'the-rest',
				setup({onResolve}) {
					onResolve({filter: /^\.\/load\.ts$/}, () => ({path: './load.js', external: true}));
				},
			},
		],
		logLevel: 'warning',
	});
	const program = await build({
		...common,
		// The worker is what `check` of many files runs on each of its threads.
		entryPoints: ['source/load.ts', 'source/main.ts', 'source/commands/check-worker.ts'],
		entryNames: '[name]',
		outdir: 'dist',
		splitting: true,
		define: {...common.define, hasCheckScript: 'true'},
		plugins: packages,
		// The serial bindings load a prebuilt addon from their own folder.
		external: ['serialport'],
	});
	await buildCheckScript();
	// For other programs (`import … from 'glovebench/session'`): knows nothing of Node, so it runs in a browser, too.
	const session = await build({
		entryPoints: ['source/session/index.ts'],
		outfile: 'dist/session.js',
		bundle: true,
		format: 'esm',
		platform: 'neutral',
		mainFields: ['module', 'main'],
		target: 'es2022',
		plugins: [editing('width'), manifest],
		minifySyntax: true,
		metafile: true,
		logLevel: 'warning',
	});
	writeFileSync('dist/THIRD-PARTY.txt', thirdPartyNotices([program.metafile, session.metafile]));
	await writeManPage();
}

/**
 * `check` once more as one script, with the code that V8 makes of it: a fifth of a short check's time goes into compiling
 * otherwise. The code is of this V8; another one throws it away and compiles.
 */
async function buildCheckScript() {
	await build({
		...common,
		entryPoints: ['source/command-line/check-main.ts'],
		outfile: 'dist/check.cjs',
		format: 'cjs',
		define: {...common.define, 'import.meta': '__importMeta'},
		banner: {js: "const __importMeta={url:require('url').pathToFileURL(__filename).href};"},
		plugins: [editing('meow'), editing('width'), manifest],
		external: ['serialport'],
		// What is left outside is required: a script that V8 took from its own code has nobody to import for it.
		supported: {'dynamic-import': false},
	});
	// Read as Latin-1, for V8 takes twice as long over wider text. In strings esbuild escapes what is not ASCII; in patterns
	// and comments it leaves it.
	const escaped = unit => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`;
	writeFileSync('dist/check.cjs', readFileSync('dist/check.cjs', 'utf8').replace(/[^\0-\x7F]/g, escaped));
	execFileSync(process.execPath, ['source/write-code.mjs', 'dist'], {stdio: ['ignore', 'ignore', 'inherit']});
}

/** The manual page, from the same table as the help. */
async function writeManPage() {
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
}

/** One file for computers without npm: `node glovebench.mjs check left.log`. The notices stand at its end. */
async function buildOneFile() {
	const outfile = process.argv[process.argv.indexOf('--one-file') + 1] ?? 'bundle/glovebench.mjs';
	mkdirSync(dirname(outfile), {recursive: true});
	const {metafile} = await build({
		...common,
		entryPoints: ['source/cli.ts'],
		outfile,
		define: {...common.define, hasCheckScript: 'false'},
		// An old Node can tell what it takes only if it can read the whole file: all of them from 16 on.
		target: 'node16',
		plugins: [builtinsLate, withoutSerialPorts, ...packages],
	});
	const notices = thirdPartyNotices([metafile]).replaceAll('*/', '* /');
	writeFileSync(outfile, `${readFileSync(outfile, 'utf8')}\n/*\n${notices}*/\n`);
}
