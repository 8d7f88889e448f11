import {defineConfig} from 'vitest/config';

export default defineConfig({
	root: new URL('..', import.meta.url).pathname,
	test: {
		include: ['tests/**/*.test.{ts,tsx}'],
		testTimeout: 20_000,
		// By default one core is left to the terminal; nobody types meanwhile.
		maxWorkers: '100%',
		// Loading everything anew for each of two hundred files takes as long as the tests. None replaces a module.
		isolate: false,
	},
});
