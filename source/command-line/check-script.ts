import {readFileSync} from 'node:fs';
import {createRequire} from 'node:module';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {setFlagsFromString} from 'node:v8';
import {Script} from 'node:vm';
import type {checkCommand} from '../commands/check.ts';
import type {Signals} from './signals.ts';

/** The script that the build made of `check-main.ts`, and V8's code of it. */
const scriptName = 'check.cjs';
const codeName = 'check.code';

/**
 * How much V8 puts into one function of the functions that it calls, in bytes of bytecode. It is made for programs that run on and
 * on; a check is over within seconds, of which V8's own work on some 350 functions took a third: with a fourth of what is
 * usual an hour's log takes as long as before, six minutes a tenth less.
 */
const inlining = '--max-inlined-bytecode-size-cumulative=200';

/** The newest Node that is known to have this setting: of one that there is not V8 complains on stderr. */
const newestKnown = 24;

/** What `check-main.ts` exports. */
type Exports = {readonly main: (signals: Signals) => void; readonly checkCommand: typeof checkCommand};

type CheckScript = Exports & {
	/** False where the code is of another V8, or of another file: it was thrown away. */
	readonly isCompiled: boolean;
};

/**
 * `check` as one script that need not be compiled; undefined where it is not beside the entry at `url`. With `keep` it is
 * compiled, and `keep` is handed what writes down all code that has been compiled by then.
 */
export function loadCheckScript(url: string, keep?: (code: () => Uint8Array) => void): CheckScript | undefined {
	const file = join(dirname(fileURLToPath(url)), scriptName);
	const source = read(file);
	if (source === undefined) return undefined;
	// Before anything is compiled: V8 takes its own code only where it was made under the same settings.
	if (Number.parseInt(process.versions.node, 10) <= newestKnown) setFlagsFromString(inlining);
	const code = keep === undefined ? read(join(dirname(file), codeName)) : undefined;
	// The build writes nothing but ASCII.
	const script = new Script(`(function (module, require, __filename) {${source.toString('latin1')}\n})`, {
		filename: file,
		...(code && {cachedData: code}),
	});
	if (keep !== undefined) keep(() => script.createCachedData());
	const module = {exports: {} as Exports};
	script.runInThisContext()(module, createRequire(file), file);
	return {...module.exports, isCompiled: code !== undefined && script.cachedDataRejected === false};
}

function read(file: string): Buffer | undefined {
	try {
		return readFileSync(file);
	} catch {
		return undefined;
	}
}
