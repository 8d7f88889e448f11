import type {FingerSpec, GloveSpec} from '../../source/simulator/glove.ts';
import {Random} from '../../source/simulator/random.ts';
import {drawGlove} from '../../source/simulator/random-glove.ts';
import {parseScript} from '../../source/simulator/script-text.ts';
import type {SimulationSpec} from '../../source/simulator/simulate.ts';
import {plainLink, plainStream} from '../../source/simulator/stream-spec.ts';

/** A full routine in the order in which it is asked for, at an easy pace. */
export const sampleMovements = [
	'rest 4s',
	...['thumb', 'index', 'middle', 'ring', 'little'].map(finger => `${finger} 3x`),
	'rest 2s',
	'fist 5x',
	'rest 1s',
	...['thumb', 'index', 'middle', 'ring', 'little'].map(finger => `${finger} 2x`),
	'stick around 2x',
	'stick sides 1x',
	'press button-1 2x',
	'press button-2 2x',
	'rest 6s',
].join(', ');

/** What is wrong with a sample glove. */
export type SampleFaults = {
	/** Two fingers whose cords lie on each other's reels. */
	readonly swapped?: readonly [string, string];
	/** Fingers whose potentiometers are mounted the other way round. */
	readonly reversed?: readonly string[];
};

/** A glove that passes every limit, all reels alike. `seed` draws the rest: board noise, ranges, hand. */
export function sampleGlove(seed: number): GloveSpec {
	const glove = drawGlove(new Random(seed), {
		board: 'avr',
		fingerCount: 5,
		stick: true,
		stickFirst: false,
		buttonCount: 2,
		firmware: 'raw',
		clearance: 0.05,
		span: [0.6, 0.75],
		shortThumb: false,
		mirrored: false,
	});
	const hand = {...glove.hand, closeSeconds: 0.45, tremorShare: 0.0005, depthSpread: 0.015, depth: 0.96};
	// One reading per value, so that the noise of the board is seen and the loop keeps its rate.
	const firmware = {...glove.firmware, averageOf: 1};
	return {
		...glove,
		hand,
		firmware,
		fingers: glove.fingers.map(finger => ({...finger, playShare: 0.004, returnScatter: 0.002})),
	};
}

/**
 * A recording of the whole routine: `simulate(bringUpSample(7))`. A swapped cord is a reel whose finger is another's:
 * the columns keep their order, what moves them does not.
 */
export function bringUpSample(seed: number, faults: SampleFaults = {}): SimulationSpec {
	const glove = sampleGlove(seed);
	const fingers = glove.fingers.map((finger, i) => {
		const [one, other] = faults.swapped ?? [];
		const partner = finger.name === one ? other : finger.name === other ? one : undefined;
		const moved = partner === undefined ? finger : glove.fingers.find(({name}) => name === partner)!;
		// Fingers of one length: a longer cord on a smaller spool would run into the end of its track.
		const reel = {...glove.fingers[i], name: moved.name};
		return faults.reversed?.includes(reel.name) ? mirrored(reel) : reel;
	});
	return {
		seed,
		durationSeconds: 90,
		glove: {...glove, fingers, hand: handFor(glove, fingers)},
		stream: plainStream,
		link: plainLink,
		script: parseScript(sampleMovements),
		faults: [],
		start: 'clean',
	};
}

function mirrored(finger: FingerSpec): FingerSpec {
	return {
		...finger,
		direction: finger.direction > 0 ? -1 : 1,
		openAngleDegrees: finger.electricalAngleDegrees - finger.openAngleDegrees,
	};
}

/** The same hand, its fingers in the order of the reels. */
function handFor({hand, fingers: before}: GloveSpec, fingers: readonly FingerSpec[]): GloveSpec['hand'] {
	const places = fingers.map(({name}) => before.findIndex(finger => finger.name === name));
	return {
		...hand,
		relaxed: places.map(place => hand.relaxed[place]),
		coupling: places.map(row => places.map(column => hand.coupling[row][column])),
	};
}
