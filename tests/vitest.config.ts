import {configDefaults, defineConfig} from 'vitest/config';

/** Which tests: `npm run test:thorough` what is slow or many times the same, `npm run test:rough` what kills programs, pulls cables and fills disks; else what ends soon. */
const kind = process.env.TESTS ?? 'quick';
const thorough = 'tests/**/*.thorough.test.{ts,tsx}';
const rough = 'tests/rough/*.rough.test.ts';
const isQuick = kind === 'quick';

/**
 * A hand that reads a screen and answers it through a port, by a clock that runs faster: what other tests left in the memory of
 * their process, it would feel as a hand that stumbles.
 */
const plays: readonly string[] = isQuick
	? ['bring-up', 'bench-stories', 'live-links', 'live-glove', 'golden-screens'].map(
			name => `tests/screen/${name}.test.ts`,
		)
	: kind === 'rough'
		? [rough]
		: ['tests/screen/*.thorough.test.ts'];
const wanted = isQuick ? 'tests/**/*.test.{ts,tsx}' : kind === 'rough' ? rough : thorough;

export default defineConfig({
	root: new URL('..', import.meta.url).pathname,
	test: {
		// For what hangs alone: longer than any wait for a screen, which tells what it saw instead, on a machine that is twenty
		// times as busy as it should be. What a test waits for is the program; none has a shorter limit of its own.
		testTimeout: 120_000,
		hookTimeout: 120_000,
		// Programs on pseudo-terminals, their signals and ports share a busy machine: what fails twice in a row has failed.
		retry: 1,
		// By default one core is left to the terminal; nobody types meanwhile.
		maxWorkers: '100%',
		projects: [
			// Loading everything anew for each of two hundred files takes as long as the tests. None replaces a module.
			{
				extends: true,
				test: {
					name: isQuick ? 'tests' : kind,
					include: [wanted],
					exclude: [...configDefaults.exclude, ...(isQuick ? [thorough, rough] : []), ...plays],
					isolate: false,
				},
			},
			{extends: true, test: {name: 'plays', include: [...plays], isolate: true}},
		],
	},
});
