// Changes the engine's code in a few hundred places drawn with a seed, one change at a time, and tells which no test notices.
// Usage: npm run mutants [-- --places 320 --seed 1 --part 1/4 --only REGEX --concurrency 2]
import {mkdtempSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {fileURLToPath} from 'node:url';
import {parseArgs} from 'node:util';
import {Stryker} from '@stryker-mutator/core';
import {discover} from './mutants/discover.mjs';
import {draw} from './mutants/draw.mjs';
import {drawn, placeOf} from './mutants/drawn.mjs';

process.chdir(fileURLToPath(new URL('../..', import.meta.url)));

const {values} = parseArgs({
	options: {
		places: {type: 'string', default: '320'},
		seed: {type: 'string', default: '1'},
		/** Of the places drawn, every fourth from the second on: 2/4. */
		part: {type: 'string', default: '1/1'},
		/** Of the places drawn, those whose `file:line:column-line:column` matches: to try again what lived. */
		only: {type: 'string', default: ''},
		concurrency: {type: 'string', default: '2'},
	},
});
const folders = ['session', 'faults', 'features', 'framing'];

const all = await discover(folders.map(name => `source/${name}/**/*.ts`));
const places = new Map(all.map(mutant => [placeOf(mutant), mutant]));
const [part, parts] = values.part.split('/').map(Number);
const only = new RegExp(values.only);
for (const [n, place] of draw([...places.keys()], Number(values.places), Number(values.seed)).entries())
	if (n % parts === part - 1 && only.test(place)) drawn.add(place);

// Inside the repository the copy would be found by the linter and the tests.
const folder = mkdtempSync(path.join(tmpdir(), 'mutants-'));
process.on('exit', () => rmSync(folder, {recursive: true, force: true}));

const results = await new Stryker({
	mutate: [...drawn].map(rangeOf),
	plugins: ['@stryker-mutator/vitest-runner', fileURLToPath(new URL('mutants/only-drawn.mjs', import.meta.url))],
	ignorers: ['only-drawn'],
	testRunner: 'vitest',
	vitest: {configFile: 'tests/mutants.vitest.config.ts', related: false},
	coverageAnalysis: 'perTest',
	// What is evaluated once, as a module is loaded: words and tables. `npm run limits` moves the limits.
	ignoreStatic: true,
	ignorePatterns: ['dist', 'bundle'],
	concurrency: Number(values.concurrency),
	// Loops without an end are told by how often they come round; a busy machine is not to look like one.
	timeoutMS: 180_000,
	timeoutFactor: 4,
	dryRunTimeoutMinutes: 20,
	tempDirName: folder,
	cleanTempDir: 'always',
	reporters: ['progress-append-only'],
	allowConsoleColors: false,
}).runMutationTest();

const tested = results.filter(
	mutant =>
		drawn.has(placeOf({...mutant, fileName: path.relative('.', mutant.fileName)})) &&
		['Killed', 'Timeout', 'Survived', 'NoCoverage'].includes(mutant.status),
);
/** A loop without an end shows in how often it came round; what only took long may have met a busy machine, and is told apart. */
const isEndless = ({status, statusReason = ''}) => status === 'Timeout' && /hit limit/i.test(statusReason);
const isLate = mutant => mutant.status === 'Timeout' && !isEndless(mutant);
const isKilled = mutant => mutant.status === 'Killed' || isEndless(mutant);
const tell = text => process.stdout.write(`${text}\n`);

tell('\nNoticed by no test:');
for (const {fileName, location, mutatorName, replacement, status} of tested
	.filter(each => !isKilled(each))
	.sort(inOrder)) {
	const {line, column} = location.start;
	const change = `${mutatorName}: ${replacement.replace(/\s+/g, ' ')}`;
	tell(
		`${path.relative('.', fileName)}:${line}:${column} ${status === 'NoCoverage' ? 'run by no test, ' : ''}${change}`,
	);
}

tell('');
for (const name of folders)
	tell(
		`${name.padEnd(10)} ${share(tested.filter(({fileName}) => path.relative('source', fileName).startsWith(`${name}/`)))}`,
	);
const files = new Set(tested.map(({fileName}) => fileName)).size;
tell(
	`all        ${share(tested)}; ${tested.filter(isLate).length} took too long, which counts as not killed; in ${files} files`,
);
tell(`drawn with seed ${values.seed}, part ${values.part}, of ${all.length} mutants in ${places.size} places`);

/** A place as Stryker is told it: columns from 0. */
function rangeOf(place) {
	const {fileName, location} = places.get(place);
	const [from, to] = [location.start, location.end].map(({line, column}) => `${line}:${column - 1}`);
	return `${fileName}:${from}-${to}`;
}

function share(mutants) {
	const killed = mutants.filter(isKilled).length;
	const percent = mutants.length === 0 ? '–' : ((100 * killed) / mutants.length).toFixed(1);
	return `${mutants.length} mutants, ${killed} killed (${percent} %)`;
}

function inOrder(one, other) {
	return one.fileName.localeCompare(other.fileName) || one.location.start.line - other.location.start.line;
}
