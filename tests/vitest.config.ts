import {configDefaults, defineConfig} from 'vitest/config';

/** `npm run test:thorough`: what kills programs, pulls cables and fills disks, minutes of it; else what ends soon. */
const isThorough = process.env.THOROUGH === '1';

export default defineConfig({
	root: new URL('..', import.meta.url).pathname,
	test: {
		include: isThorough ? ['tests/rough/*.test.ts'] : ['tests/**/*.test.{ts,tsx}'],
		exclude: [...configDefaults.exclude, ...(isThorough ? [] : ['tests/rough/*.thorough.test.ts'])],
		// For what hangs alone: longer than any wait for a screen, which tells what it saw instead, on a machine that is twenty
		// times as busy as it should be. What a test waits for is the program; none has a shorter limit of its own.
		testTimeout: 300_000,
		hookTimeout: 300_000,
		// Programs on pseudo-terminals, their signals and ports share a busy machine: what fails twice in a row has failed.
		retry: 1,
		// By default one core is left to the terminal; nobody types meanwhile.
		maxWorkers: '100%',
		// Loading everything anew for each of two hundred files takes as long as the tests. None replaces a module.
		isolate: false,
	},
});
