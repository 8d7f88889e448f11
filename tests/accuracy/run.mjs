// Bundles run.ts and runs it: `node tests/accuracy/run.mjs [flags]`. The command line must have been built before.
import {fileURLToPath} from 'node:url';
import {runBundled} from '../tools/bundled.mjs';

/** Sections by name; without one, how right the findings are. */
const sections = {
	mount: '../mount/accuracy.ts',
	link: '../link/accuracy.ts',
	ruler: '../ruler/accuracy.ts',
	frames: '../frames/accuracy.ts',
	stale: 'measure-stale.ts',
};
const name = process.argv.find(argument => Object.hasOwn(sections, argument));
const entry = name === undefined ? (process.argv.includes('--learning') ? 'learning.ts' : 'run.ts') : sections[name];
process.chdir(fileURLToPath(new URL('../..', import.meta.url)));
await runBundled(fileURLToPath(new URL(entry, import.meta.url)));
