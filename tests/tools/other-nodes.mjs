// Runs the program under other versions of Node and holds all its reports on the samples and cases against those of this
// one, digest by digest; a version that is too old has to be told so in one line. The versions come as packages of the registry, whose binaries need no install script.
// Usage: node tests/tools/other-nodes.mjs [MAJOR…]; ends with 1 where a report differs, 0 where the registry is out of reach.
import {spawnSync} from 'node:child_process';
import {mkdtempSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';

const majors = process.argv.length > 2 ? process.argv.slice(2) : ['20', '22', '24'];
/** The newest that will not do. */
const tooOld = '18';
const system = `${process.platform}-${process.arch}`;
if (!['linux-x64', 'linux-arm64'].includes(system)) {
	console.log(`Other versions of Node are not tried on ${system}.`);
	process.exit(0);
}

const folder = mkdtempSync(path.join(tmpdir(), 'glovebench-nodes-'));
process.on('exit', () => rmSync(folder, {recursive: true, force: true}));

const packages = [...majors, tooOld].map(major => `node${major}@npm:node-${system}@${major}`);
const installed = spawnSync(
	'npm',
	['install', '--prefix', folder, '--ignore-scripts', '--no-audit', '--no-fund', '--no-save', ...packages],
	{encoding: 'utf8', timeout: 300_000, stdio: ['ignore', 'ignore', 'pipe']},
);
if (installed.status !== 0) {
	const [why = 'no answer in time'] = (installed.stderr ?? '').split('\n').filter(Boolean);
	console.log(`Other versions of Node could not be fetched and are not tried: ${why}`);
	process.exit(0);
}

/** Every line that the digests' program prints under this version of Node. */
function digestsUnder(node) {
	const {stdout, stderr, status} = spawnSync(node, ['tests/tools/run.mjs', 'tests/tools/report-digests.ts'], {
		encoding: 'utf8',
		timeout: 600_000,
		maxBuffer: 1 << 26,
	});
	if (status !== 0) throw new Error(`The digests could not be made under ${node}: ${stderr.slice(0, 2000)}`);
	return stdout.split('\n').filter(Boolean);
}

/** What the program as built prints for its demonstration. */
function demoUnder(node) {
	const {stdout, stderr, status} = spawnSync(node, ['dist/cli.js', 'demo', '--json'], {
		encoding: 'utf8',
		timeout: 120_000,
	});
	if (status !== 0) throw new Error(`The demonstration failed under ${node}: ${stderr.slice(0, 2000)}`);
	return stdout;
}

const nodeOf = major => path.join(folder, 'node_modules', `node${major}`, 'bin', 'node');

/** Throws where an old Node gives anything but one line that says what it takes, whatever was asked for. */
function expectRefusal(node) {
	for (const asked of ['--version', 'demo', 'check no-such-file']) {
		const {status, stdout, stderr} = spawnSync(node, ['dist/cli.js', ...asked.split(' ')], {encoding: 'utf8'});
		if (status === 2 && stdout === '' && /^glovebench: Node 18\.[\d.]+ is too old[^\n]*\n$/.test(stderr)) continue;
		throw new Error(`An old Node asked for ${asked} ended with ${status}: ${stdout}${stderr.slice(0, 2000)}`);
	}
}

expectRefusal(nodeOf(tooOld));
console.log(`Node ${tooOld}: is told in one line what it takes.`);
const expected = digestsUnder(process.execPath);
const demo = demoUnder(process.execPath);
if (expected.length < 100) throw new Error(`There are only ${expected.length} digests: samples are missing.`);
let differing = 0;
for (const major of majors) {
	const node = nodeOf(major);
	const version = spawnSync(node, ['--version'], {encoding: 'utf8'}).stdout?.trim() ?? '';
	if (!version.startsWith(`v${major}.`)) throw new Error(`${node} is ${version || 'not there'}.`);
	const found = digestsUnder(node);
	const others = expected.filter((line, index) => found[index] !== line).map(line => line.slice(65));
	if (demoUnder(node) !== demo) others.push('the demonstration as built');
	differing += others.length + Math.abs(found.length - expected.length);
	console.log(
		`Node ${version}: ${others.length === 0 ? `${expected.length} reports and the demonstration are those of ${process.version}` : `other reports: ${others.join(', ')}`}`,
	);
}
process.exit(differing > 0 ? 1 : 0);
