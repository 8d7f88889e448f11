// Runs a TypeScript program of the test side: bundles it with esbuild into a folder of tests/, then imports it.
// Usage: node tests/tools/run.mjs tests/bench/bench.ts [arguments]
import {runBundled} from './bundled.mjs';

const [entry, ...rest] = process.argv.slice(2);
if (entry === undefined) {
	process.stderr.write('Name a program to run, such as tests/bench/bench.ts.\n');
	process.exit(2);
}
process.argv = [process.argv[0], entry, ...rest];
await runBundled(entry);
