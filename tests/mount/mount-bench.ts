import {type MountOptions, mountCommand} from '../../source/commands/mount.ts';
import {runCaptured} from '../commands/run-captured.ts';
import {drawTrial, trialText} from './trial.ts';

/** A log at 30 poses a second: less to write and read. */
export const slow = {rate: 30} as const;
export const trial = drawTrial({seed: 11, ...slow});
/** What the trial's log says, its names first. */
export const lines = trialText(trial).trim().split('\n');

/** Runs the command, with a log on standard input where one is given. */
export const runMount = (options: MountOptions, stdin?: string) =>
	runCaptured(mountCommand, options, {...(stdin !== undefined && {stdin})});
