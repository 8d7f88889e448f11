// Packs the program as for the registry, installs the packet in a clean folder and tries what is installed there: the
// demonstration, a check of a recording and of a port, the core and its types, and the manual page.
// Usage: node tests/tools/packed-install.mjs [NODE]; ends with 0 without a try where the registry is out of reach.
import assert from 'node:assert/strict';
import {spawnSync} from 'node:child_process';
import {existsSync, lstatSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {spawn as spawnOnTerminal} from '@lydell/node-pty';

const [node = process.execPath] = process.argv.slice(2);
const folder = mkdtempSync(path.join(tmpdir(), 'glovebench-packed-'));
process.on('exit', () => rmSync(folder, {recursive: true, force: true}));

const run = (command, args, options = {}) =>
	spawnSync(command, args, {encoding: 'utf8', timeout: 300_000, maxBuffer: 1 << 26, ...options});

const packed = run('npm', ['pack', '--json', '--pack-destination', folder]);
assert.equal(packed.status, 0, packed.stderr);
// What the scripts print comes before the list.
const [{filename, files}] = JSON.parse(packed.stdout.slice(packed.stdout.search(/^\[/m)));
const paths = new Set(files.map(file => file.path));
for (const needed of ['dist/cli.js', 'dist/session.js', 'dist/THIRD-PARTY.txt', 'dist/glovebench.1', 'LICENSE'])
	assert.ok(paths.has(needed), `${needed} is not in the packet.`);
for (const {path: file} of files)
	assert.match(file, /^(?:dist|docs|recordings)\/|^(?:LICENSE|README\.md|package\.json)$/);

const place = path.join(folder, 'place');
mkdirSync(place);
const installed = run(
	'npm',
	[
		'install',
		'--global',
		'--prefix',
		place,
		'--ignore-scripts',
		'--no-audit',
		'--no-fund',
		path.join(folder, filename),
	],
	{cwd: folder},
);
if (installed.status !== 0) {
	const [why = 'no answer in time'] = (installed.stderr ?? '').split('\n').filter(Boolean);
	console.log(`The packet could not be installed and is not tried: ${why}`);
	process.exit(0);
}

const home = path.join(place, 'lib/node_modules/glovebench');
const packages = packagesBelow(path.join(home, 'node_modules'));
const {packages: locked} = JSON.parse(readFileSync('package-lock.json', 'utf8'));
const needed = new Set(
	Object.entries(locked)
		.filter(([name, {dev}]) => name !== '' && !dev)
		.map(([name]) => name.replace(/^.*node_modules\//, '')),
);
for (const name of packages) assert.ok(needed.has(name), `${name} is installed, which the program does not need.`);

const glovebench = (...args) => run(node, [path.join(place, 'bin/glovebench'), ...args], {cwd: folder});
const expect = (result, status, words) => {
	assert.equal(result.status, status, `${result.stdout}${result.stderr}`.slice(0, 2000));
	assert.match(result.stdout, words);
};

expect(glovebench('--version'), 0, /^\d+\.\d+\.\d+\n$/);
expect(glovebench('demo'), 0, /DO FIRST/);
expect(glovebench('check', path.join(home, 'recordings/dropout.gbrec')), 1, /DO FIRST ring: dropout/);
expect(glovebench('check', path.join(home, 'recordings/healthy.gbrec'), '--json'), 0, /"verdict":\s*"pass"/);
await tryPort();
tryCore();
assert.ok(existsSync(path.join(place, 'share/man/man1/glovebench.1')), 'The manual page is not linked.');

console.log(
	`The packet (${files.length} files) is installed with ${packages.length} packages, ${megabytes(home)} MB, and works under ${run(node, ['--version']).stdout.trim()}: demo, check, a port, the core and its types.`,
);
process.exit(0);

function packagesBelow(modules) {
	if (!existsSync(modules)) return [];
	return readdirSync(modules).flatMap(name => {
		if (name.startsWith('.')) return [];
		if (name.startsWith('@')) return readdirSync(path.join(modules, name)).map(inner => `${name}/${inner}`);
		return [name, ...packagesBelow(path.join(modules, name, 'node_modules'))];
	});
}

function megabytes(top) {
	const bytes = readdirSync(top, {recursive: true, encoding: 'utf8'})
		.map(name => lstatSync(path.join(top, name)))
		.reduce((sum, found) => sum + (found.isFile() ? found.size : 0), 0);
	return (bytes / 2 ** 20).toFixed(1);
}

/** A pseudo-terminal stands for the port; its child holds it open. */
async function tryPort() {
	const {spawn} = await import('node:child_process');
	const terminal = spawnOnTerminal('/bin/sleep', ['120'], {encoding: null});
	const check = spawn(node, [path.join(place, 'bin/glovebench'), 'check', terminal.ptsName, '--for', '3s', '--json']);
	let out = '';
	check.stdout.on('data', data => {
		out += data;
	});
	let n = 0;
	const sending = setInterval(() => terminal.write(`${500 + (n++ % 3)},498,473,511,530\r\n`), 10);
	const status = await new Promise(resolve => check.on('close', resolve));
	clearInterval(sending);
	terminal.kill();
	assert.ok([0, 1].includes(status), `check of a port ended with ${status}: ${out}`);
	const {source, link} = JSON.parse(out);
	assert.equal(source.kind, 'serial');
	assert.ok(link.frames > 20, `Only ${link.frames} frames came from the port.`);
}

/** The example of docs/session.md, run and held against the types as another program sees them. */
function tryCore() {
	const user = path.join(place, 'lib/user');
	mkdirSync(user);
	const [, code] = /^```js\n([\s\S]*?)^```$/m.exec(readFileSync(path.join(home, 'docs/session.md'), 'utf8'));
	writeFileSync(path.join(user, 'package.json'), '{"type": "module"}');
	writeFileSync(
		path.join(user, 'example.ts'),
		`${code}\n// @ts-expect-error A mistake is seen.\nsession.push('512');\n`,
	);
	writeFileSync(path.join(user, 'example.mjs'), code);
	expect(run(node, ['example.mjs'], {cwd: user}), 0, /^stuck-low, ring:/m);
	const options = ['--noEmit', '--strict', '--target', 'es2022', '--module', 'nodenext', '--lib', 'es2023,dom'];
	const types = run(process.execPath, [path.resolve('node_modules/typescript/bin/tsc'), ...options, 'example.ts'], {
		cwd: user,
	});
	assert.equal(types.status, 0, types.stdout);
}
