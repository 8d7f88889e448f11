import {checkCommand} from '../commands/check.ts';
import {runProgram} from '../program.ts';
import type {Command} from './command-io.ts';
import type {Options} from './parse-command-line.ts';
import type {Signals} from './signals.ts';

/** For the build, which has to run what it writes down the code of. */
export {checkCommand};

/** `check` by itself, which the build makes one script of that comes with its compiled code. */
export const main = (signals: Signals): void =>
	runProgram(signals, {check: async () => checkCommand as unknown as Command<Options>});
