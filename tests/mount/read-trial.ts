import {usualEnough} from '../../source/mount/mount-result.ts';
import {chooseDevice, PoseReader} from '../../source/mount/raw-poses.ts';
import {type Mount, type MountChoices, solveMount} from '../../source/mount/solve-mount.ts';

export const usualChoices: MountChoices = {
	hand: 'right',
	handedness: 'right-handed',
	order: undefined,
	direction: undefined,
	unit: undefined,
	up: undefined,
	steps: undefined,
	spaces: undefined,
	originFromPivot: [0, 0, 0],
	enough: usualEnough,
	rate: 100,
};

/** A log as text, read and solved as the command does. */
export function solveText(text: string, choices: Partial<MountChoices> = {}, device?: string): Mount {
	const reader = new PoseReader();
	reader.push(text);
	reader.end();
	const {read} = reader;
	if (read === undefined) throw new Error(reader.problem);
	const raw = chooseDevice(read, device, 'poses.csv');
	return solveMount({source: 'poses.csv', read, raw}, undefined, {...usualChoices, ...choices});
}
