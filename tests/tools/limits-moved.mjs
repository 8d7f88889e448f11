// Moves every limit of every check by half, down and up, and tells which moves no data test of that check notices.
// Usage: npm run limits [-- CODE…|CODE/WAY/LIMIT…]
import {fileURLToPath} from 'node:url';
import {startVitest} from 'vitest/node';
import {unnoticed} from './limits-unnoticed.mjs';

const codes = process.argv.slice(2);
const root = fileURLToPath(new URL('../..', import.meta.url));

const widths = [18, 20, 20, 8, 8, 10];
const line = cells =>
	cells
		.map((cell, i) => String(cell).padEnd(widths[i] ?? 0))
		.join('  ')
		.trimEnd();
const tell = text => process.stdout.write(`${text}\n`);

/** Rows of the table and what is wrong with the run itself. */
const [missed, known, stale, broken] = [[], [], [], []];
const limits = new Set();
let moves = 0;

/** One suite of the driver is one move, or the data tests of a check with nothing moved. */
function take(suite) {
	if (suite.parent.type !== 'module') return;
	const {files, code, way, limit, raise, to} = JSON.parse(suite.name);
	const tests = [...suite.children.allTests()];
	const failed = tests.filter(test => test.result().state === 'failed').length;
	for (const {message} of suite.errors()) broken.push(`${suite.name}: ${message}`);
	if (to === undefined) {
		if (failed > 0 || tests.length === 0)
			broken.push(`${files}: ${failed} of ${tests.length} tests fail with nothing moved`);
		return;
	}
	moves++;
	limits.add(`${code}/${way}/${limit}`);
	const why = unnoticed[`${code}/${way}/${limit} ${to < raise ? 'down' : 'up'}`];
	const row = line([code, way, limit, raise, to, failed]);
	tell(row);
	if (failed === 0) (why === undefined ? missed : known).push(why === undefined ? row : `${row}  ${why}`);
	else if (why !== undefined) stale.push(row);
}

tell(line(['check', 'way', 'limit', 'raise', 'moved to', 'noticed by']));
const vitest = await startVitest('test', [], {
	// The projects of the usual configuration bring tests of their own along.
	config: false,
	root,
	testTimeout: 120_000,
	hookTimeout: 120_000,
	include: ['tests/tools/limits-moved.driver.ts'],
	watch: false,
	retry: 0,
	maxWorkers: 1,
	reporters: [{onTestSuiteResult: take}],
	provide: {codes},
});
const errors = [
	...vitest.state.getUnhandledErrors(),
	...vitest.state.getTestModules().flatMap(module => module.errors()),
];
for (const {message} of errors) broken.push(message);
await vitest.close();

for (const [title, rows] of [
	['Noticed by no test:', missed],
	['Known to be noticed by no test:', known],
	['Listed as noticed by none, but noticed:', stale],
	['Not measured:', broken],
])
	if (rows.length > 0) tell(`\n${title}\n${rows.join('\n')}`);
tell(
	`\n${limits.size} limits, ${moves} moves: ${moves - missed.length - known.length} noticed, ${missed.length} not, ${known.length} known.`,
);
process.exitCode = missed.length + stale.length + broken.length > 0 ? 1 : 0;
