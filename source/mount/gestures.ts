import {type GestureName, gestureNames, type Handedness} from './gesture-words.ts';
import {type Hand, type UpAxis, upAxes} from './pose-form.ts';
import {inverse, length, plus, type Quaternion, turned, type Vector} from './rotation.ts';
import {solveWahba, type Wahba} from './wahba.ts';

/** What is up in a pose, in the hand's axes. */
export function knownUp(name: GestureName, hand: Hand, handedness: Handedness): Vector {
	switch (name) {
		case 'palm-down':
			return [0, 1, 0];
		case 'thumb-up':
			return [hand === 'right' ? -1 : 1, 0, 0];
		case 'fingers-down':
			return [0, 0, handedness === 'right-handed' ? 1 : -1];
	}
}

export function axisOf(up: UpAxis): Vector {
	const sign = up.startsWith('-') ? -1 : 1;
	return (['x', 'y', 'z'] as const).map(letter => (up.endsWith(letter) ? sign : 0)) as unknown as Vector;
}

/** One pose that was held, with the tracker's mean rotation in it. */
export type Gesture = {readonly name: GestureName; readonly turn: Quaternion};

export type GestureFit = {
	readonly up: UpAxis;
	readonly wahba: Wahba;
	/** How many times worse the next best axis fits; undefined where up was given. */
	readonly runnerUp: {readonly up: UpAxis; readonly times: number} | undefined;
};

/** Below this, rad a gesture, no fit is better than another. */
const noise = 0.01;

/**
 * The rotation that takes the hand's axes to the tracker's, from poses held; of the six axes of the space, up is the one
 * that fits best. Undefined with fewer than two different poses.
 */
export function fitGestures(
	gestures: readonly Gesture[],
	hand: Hand,
	handedness: Handedness,
	given: UpAxis | undefined,
): GestureFit | undefined {
	const fits = (given === undefined ? upAxes : [given])
		.flatMap(up => {
			const wahba = solveWahba(
				gestures.map(({name, turn}) => ({
					seen: turned(inverse(turn), axisOf(up)),
					known: knownUp(name, hand, handedness),
				})),
			);
			return wahba === undefined ? [] : [{up, wahba}];
		})
		.sort((a, b) => a.wahba.rootSum - b.wahba.rootSum);
	if (fits.length === 0) return undefined;
	const [best, next] = fits;
	const runnerUp = next && {
		up: next.up,
		times: next.wahba.rootSum / Math.max(best.wahba.rootSum, noise * Math.sqrt(gestures.length)),
	};
	return {...best, runnerUp};
}

/** Angles between poses of one name as up is seen in them, rad: near π where one was done the other way up. */
export function sameGestureAngles(
	gestures: readonly Gesture[],
	up: UpAxis,
): {readonly name: GestureName; readonly angle: number}[] {
	const seen = gestures.map(({name, turn}) => ({name, up: turned(inverse(turn), axisOf(up))}));
	return gestureNames.flatMap(name => {
		const own = seen.filter(each => each.name === name);
		if (own.length < 2) return [];
		return [{name, angle: 2 * Math.asin(Math.min(1, length(plus(own[0].up, own[1].up, -1)) / 2))}];
	});
}
