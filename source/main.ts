import {commandLoaders} from './command-line/command-loaders.ts';
import type {Signals} from './command-line/signals.ts';
import {runProgram} from './program.ts';

/** The whole program: every command, each loaded when it is asked for. */
export const main = (signals: Signals): void => runProgram(signals, commandLoaders);
