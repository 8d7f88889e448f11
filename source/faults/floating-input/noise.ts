import type {Features} from '../../features/features.ts';
import type {Way} from '../fault.ts';
import {figure} from '../figures.ts';
import {atLeast, chances} from '../gates/gate.ts';
import {isUnrelated, openPinStatus} from '../gates/open-pin.ts';

/** An open pin that jitters between neighbouring frames, whatever the hand does. */
export const noise: Way = {
	name: 'noise',
	limits: {
		watched: {raise: 1, must: 1, mustNot: null, unit: 's watched', because: 'two half seconds running (design §5.2)'},
		rate: {
			raise: 35,
			must: 35,
			mustNot: null,
			unit: 'frames/s',
			because: 'below that a quick movement leaps from frame to frame as noise does: half a tap at 7 Hz lasts 71 ms',
		},
		noise: {
			raise: 2,
			clear: 1,
			must: 2,
			mustNot: null,
			unit: '% FS rms between neighbouring frames',
			because:
				'ten times what a sound pot and its converter show; boards with radio reach 0.4 % (facts H-real: 99 of 100 half seconds of real hands stay below 1.3 %)',
		},
		jagged: {
			raise: 0.6,
			must: 0.6,
			mustNot: null,
			unit: 'of the first differences',
			because: 'white noise has √(6/4)/√2 = 0.87, a smooth tap below 0.3: halfway between (design §5.2)',
		},
		lasts: {raise: 1, clear: 0, must: 1, mustNot: null, unit: 's running', because: 'two half seconds (design §5.2)'},
		lastsAfterMoving: {
			raise: 5,
			clear: 0,
			must: 5,
			mustNot: null,
			unit: 's running on a channel that has moved alone',
			because: 'a finger that crackles is no open pin; one that came loose stays noisy (design §5.2)',
		},
		quietBeside: {
			raise: 3,
			must: 3,
			mustNot: null,
			unit: 'other fingers quiet for 10 s, as long as none is proven',
			because:
				'before any finger is proven an open pin is nothing to tell; beside three that are wired it is (design §5.2)',
		},
	},
	gates: [
		chances('watched', features => features.now - features.epochFrom, 'leave the glove on for a second'),
		atLeast('rate', features => features.framesPerSecond),
		atLeast('noise', (features, a) => features.percent(features.jagged.rms[a])),
		atLeast('jagged', (features, a) => features.jagged.jagged[a]),
		atLeast('lasts', lasted),
		atLeast('lastsAfterMoving', (features, a) =>
			Number.isNaN(features.proof.aloneAt[a]) ? Number.POSITIVE_INFINITY : lasted(features, a),
		),
		isUnrelated,
	],
	sign: (features, a) => ({
		from: features.jagged.since[a],
		status: openPinStatus(features, a),
		summary: `${features.analogName(a)} jitters by ${figure(features.percent(features.jagged.rms[a]))} % FS rms from frame to frame, whatever the hand does.`,
		evidence: {noisePercentFs: figure(features.percent(features.jagged.rms[a])), seconds: figure(lasted(features, a))},
	}),
};

/** Seconds for which the channel has jittered without a pause. */
function lasted(features: Features, a: number): number {
	const since = features.jagged.since[a];
	return Number.isNaN(since) ? 0 : features.now - since;
}
