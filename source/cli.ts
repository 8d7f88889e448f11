#!/usr/bin/env node
// The first file that Node loads. Also versions of Node that are too old for the rest read it, so source/build.mjs
// writes it by itself, in the syntax of 2017, and nothing of ours is imported before the version is known.
import {takeSignals} from './command-line/signals.ts';
import {whyTooOld} from './command-line/why-too-old.ts';

const why = whyTooOld(process.versions.node);
if (why === undefined) {
	// Before anything else is loaded: a signal that comes meanwhile ends the command as soon as it begins.
	const asked = takeSignals();
	const program = import('./load.ts').then(({load}) => load());
	program.then(
		({main}) => main(asked),
		(error: unknown) => {
			process.stderr.write(`glovebench: Its own files could not be loaded (${String(error)}): install it again.\n`);
			process.exit(2);
		},
	);
} else {
	process.stderr.write(`glovebench: ${why}\n`);
	process.exitCode = 2;
}
