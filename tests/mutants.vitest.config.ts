import {defineConfig} from 'vitest/config';
import {BaseSequencer, type TestSpecification} from 'vitest/node';

/** What notices most comes first: after the first test that fails a mutant is dead. */
const sharpest = ['session/twins', 'session/figures', 'faults/cases'];
const rank = ({moduleId}: TestSpecification): number => {
	const place = sharpest.findIndex(name => moduleId.endsWith(`${name}.test.ts`));
	return place < 0 ? sharpest.length : place;
};

class SharpestFirst extends BaseSequencer {
	override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
		return (await super.sort(files)).toSorted((one, other) => rank(one) - rank(other));
	}
}

/**
 * `npm run mutants`: the tests beside the engine's folders that are over within a second or two. They run once for every mutant,
 * so what takes longer is left out, though it would notice more.
 */
export default defineConfig({
	root: new URL('..', import.meta.url).pathname,
	test: {
		testTimeout: 60_000,
		include: ['tests/{session,faults,features,framing}/**/*.test.ts'],
		exclude: [
			'tests/**/*.thorough.test.ts',
			'tests/faults/{healthy,settings-stale}.test.ts',
			'tests/session/{bench-reels,learning-streams,session-page,three-ways}.test.ts',
		],
		isolate: false,
		sequence: {sequencer: SharpestFirst},
	},
});
