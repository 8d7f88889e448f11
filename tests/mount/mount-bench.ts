import type Quaternion from 'quaternion';
import {type MountOptions, mountCommand} from '../../source/commands/mount.ts';
import {runCaptured} from '../commands/run-captured.ts';
import type {TestFolder} from '../gloves/test-folder.ts';
import {drawTrial, trialText, type Vec} from './trial.ts';

/** A log at 30 poses a second: less to write and read. */
export const slow = {rate: 30} as const;
export const trial = drawTrial({seed: 11, ...slow});
/** What the trial's log says, its names first. */
export const lines = trialText(trial).trim().split('\n');

/** Runs the command, with a log on standard input where one is given. */
export const runMount = (options: MountOptions, stdin?: string) =>
	runCaptured(mountCommand, options, {...(stdin !== undefined && {stdin})});

/** What --verify says of a log of the hand as a host shows it that applies a changed offset for the true one of the trial. */
export async function verifyWith(
	{write}: TestFolder,
	change: (turn: Quaternion, place: Vec) => {turn: Quaternion; place: Vec},
) {
	const own = {turn: trial.turn, place: trial.point};
	const shown = change(own.turn, own.place);
	const rows = trial.rows.map(({t, turn, place}) => {
		const moved = turn.rotateVector(shown.place) as Vec;
		return {t, turn: turn.mul(shown.turn), place: place.map((value, k) => value + moved[k]) as Vec};
	});
	const {turn, place} = own;
	const json = JSON.parse((await runMount({poses: write('first.csv', lines.join('\n')), json: true})).text);
	json.trackerToHand = {positionMm: place, quaternion: {w: turn.w, x: turn.x, y: turn.y, z: turn.z}};
	const verify = write('first.json', JSON.stringify(json));
	return runMount({poses: write('after.csv', trialText({...trial, rows})), verify, json: true});
}
