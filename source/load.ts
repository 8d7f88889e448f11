import {loadCheckScript} from './command-line/check-script.ts';
import {keepCompiled} from './command-line/keep-compiled.ts';
import type {Signals} from './command-line/signals.ts';

/** Set by source/build.mjs: whether the script of `check` lies beside this file. */
declare const hasCheckScript: boolean;

/** The program, the quickest way there is: `check` as one script that need not be compiled, the rest as modules. */
export async function load(): Promise<{readonly main: (signals: Signals) => void}> {
	if (hasCheckScript && process.argv[2] === 'check') {
		const script = loadCheckScript(import.meta.url);
		if (script !== undefined) return script;
	}

	if (hasCheckScript) keepCompiled();
	return import('./main.ts');
}
