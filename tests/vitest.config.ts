import {defineConfig} from 'vitest/config';

export default defineConfig({
	root: new URL('..', import.meta.url).pathname,
	test: {
		include: ['tests/**/*.test.{ts,tsx}'],
		// Longer than any wait for a screen, which tells what it saw instead; other work on the machine takes its share.
		testTimeout: 60_000,
		// Programs on pseudo-terminals, their signals and ports share a busy machine: what fails twice in a row has failed.
		retry: 1,
		// By default one core is left to the terminal; nobody types meanwhile.
		maxWorkers: '100%',
		// Loading everything anew for each of two hundred files takes as long as the tests. None replaces a module.
		isolate: false,
	},
});
