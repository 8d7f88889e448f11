import type {FinishedBringUp} from '../../../source/bringup/finished-bring-up.ts';
import {runBringUp} from '../../../source/bringup/run-bring-up.ts';
import {compareRuns} from '../../../source/compare/comparison.ts';
import {gatherSource} from '../../../source/fit/gather-source.ts';
import {openSource} from '../../../source/sources/open-source.ts';

const recording = (name: string) => new URL(`../../../recordings/${name}.gbrec`, import.meta.url).pathname;

/** Device text that tries to become part of a page, to run, to fetch, and to turn text around. */
export const hostile =
	'"><script src="https://a.invalid/x.js"></script><img src=https://b.invalid/ onerror=document.title="owned"><style>@import "https://c.invalid/"</style></pre></svg>\u202e\u001b[2J';

/** Two of the samples compared: a good glove before, this one after. */
export async function comparedSamples(before: string, after: string) {
	const a = await gatherSource(await openSource(recording(before)), {});
	const b = await gatherSource(await openSource(recording(after)), {});
	return {comparison: compareRuns(a, b), a, b};
}

/** A sample of the whole routine, run as `bringup` runs it. */
export async function finishedBringUp(name: string): Promise<FinishedBringUp> {
	const run = await runBringUp(await openSource(recording(name)), {isPrompted: false});
	if (!run.bringUp || !run.result) throw new Error(`${name} had no frame in it.`);
	return {...run, bringUp: run.bringUp, result: run.result};
}
