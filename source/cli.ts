#!/usr/bin/env node
// The first file that Node loads. Also versions of Node that are too old for the rest read it, so source/build.mjs
// writes it by itself, in the syntax of 2017, and nothing of ours is imported before the version is known.
import {loadCheckScript} from './command-line/check-script.ts';
import {keepCompiled} from './command-line/keep-compiled.ts';
import {takeSignals} from './command-line/signals.ts';
import {whyTooOld} from './command-line/why-too-old.ts';

/** Set by source/build.mjs: whether the script of `check` lies beside this file. */
declare const hasCheckScript: boolean;

const why = whyTooOld(process.versions.node);
if (why === undefined) {
	// Before anything else is loaded: a signal that comes meanwhile ends the command as soon as it begins.
	const asked = takeSignals();
	load().then(
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

async function load(): Promise<{main: (signals: ReturnType<typeof takeSignals>) => void}> {
	if (hasCheckScript && process.argv[2] === 'check') {
		const script = loadCheckScript(import.meta.url);
		if (script !== undefined) return script;
	}

	if (hasCheckScript) keepCompiled();
	return import('./main.ts');
}
