import {companyOf} from '../../features/company.ts';
import type {Features} from '../../features/features.ts';
import {roughAtRest} from '../../features/rests.ts';
import {evidenceOf} from '../evidence.ts';
import type {Way} from '../fault.ts';
import {figure} from '../figures.ts';
import {atLeast, atMost, chances} from '../gates/gate.ts';
import {isUnrelatedSince, openPinStatus} from '../gates/open-pin.ts';

/** An open pin that jitters between neighbouring frames, whatever the hand does. */
export const noise: Way = {
	name: 'noise',
	limits: {
		watched: {
			raise: 1,
			must: 1,
			mustNot: null,
			unit: 's watched',
			because: 'two half seconds running (check-values D5.2)',
		},
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
			unit: '% FS of the converter, rms between neighbouring frames',
			because:
				'ten times what a sound pot and its converter show; boards with radio reach 0.4 % (check-values H-real: 99 of 100 half seconds of real hands stay below 1.3 %)',
		},
		overRun: {
			raise: 2,
			clear: 1,
			must: 2,
			mustNot: null,
			unit: '% FS of the converter, rms over the whole stretch of it, less a standard error',
			because:
				'a wired channel that is noisy at 1.7 % shows 2 % in some second or other: the half second is known to an eighth (32 readings); over all its seconds it does not',
		},
		jagged: {
			raise: 0.6,
			must: 0.6,
			mustNot: null,
			unit: 'of the first differences',
			because: 'white noise has √(6/4)/√2 = 0.87, a smooth tap below 0.3: halfway between (check-values D5.2)',
		},
		lasts: {
			raise: 1,
			clear: 0,
			must: 1,
			mustNot: null,
			unit: 's running',
			because: 'two half seconds (check-values D5.2)',
		},
		lastsAfterMoving: {
			raise: 5,
			clear: 0,
			must: 5,
			mustNot: null,
			unit: 's running on a channel that has moved alone',
			because: 'a finger that crackles is no open pin; one that came loose stays noisy (check-values D5.2)',
		},
		restsToo: {
			raise: 0.5,
			clear: 0,
			must: null,
			mustNot: null,
			unit: 's of that with half the noise and more in which the other fingers rest, on a channel that has moved alone',
			because: 'a worn track crackles as long as it travels (rough-track), an open pin whatever the hand does',
		},
		lastsUntimed: {
			raise: 5,
			clear: 0,
			must: null,
			mustNot: null,
			unit: 's running where the frame rate is only assumed',
			because:
				'as that may be 20 frames/s, where taps from 4 a second on are as jagged (a sinusoid of frequency f at r frames/s has sin(π f/r)); twenty in a row without a pause are more than trying a finger asks; common practice, no source',
		},
		worse: {
			raise: 2,
			clear: 1,
			must: null,
			mustNot: null,
			unit: 'times as noisy as when it last moved by itself, unless it has gone with one of the last eight movements of the whole hand at the most',
			because:
				'what was as noisy while it followed a hand is a wired channel that is noisy; half seconds of one noise differ by less than 2 once in a thousand (F distribution, 18 readings)',
		},
		shared: {
			raise: 1,
			clear: 2,
			must: null,
			mustNot: null,
			unit: 'other fingers that leap alike, in proportion to their level',
			because: 'one beside it may be its ghost; where two more leap with it the supply they share does (supply-ripple)',
		},
		quietBeside: {
			raise: 3,
			must: 3,
			mustNot: null,
			unit: 'other fingers quiet for 10 s, as long as none is proven',
			because:
				'before any finger is proven an open pin is nothing to tell; beside three that are wired it is (check-values D5.2)',
		},
	},
	gates: [
		chances('watched', features => features.watchedSeconds, 'leave the glove on for a second'),
		atLeast('rate', features => features.framesPerSecond),
		atLeast(
			'noise',
			(features, a) => features.percentOfConverter(features.jagged.rms[a]),
			(features, a, raise) => features.percentOfConverter(features.jagged.rms[a]) >= raise,
		),
		atLeast('overRun', (features, a) => features.percentOfConverter(features.jagged.overRun(a))),
		atLeast('jagged', (features, a) => features.jagged.jagged[a]),
		atLeast('lasts', lasted),
		atLeast('lastsAfterMoving', (features, a) =>
			Number.isNaN(features.proof.aloneAt[a]) ? Number.POSITIVE_INFINITY : lasted(features, a),
		),
		atLeast('restsToo', (features, a) =>
			Number.isNaN(features.proof.aloneAt[a])
				? Number.POSITIVE_INFINITY
				: roughAtRest(features, a, companyOf(features, a), features.jagged.since[a], features.jagged.rms[a] / 2),
		),
		atLeast('lastsUntimed', (features, a) =>
			features.link.timing === 'assumed' ? lasted(features, a) : Number.POSITIVE_INFINITY,
		),
		atLeast('worse', (features, a) =>
			features.follow.hardlyEverGoes(a)
				? Number.POSITIVE_INFINITY
				: features.jagged.rms[a] / features.jagged.whenMoved[a],
		),
		atMost('shared', (features, a) => features.supplyLeaps.leapingWith(features, a)),
		isUnrelatedSince,
	],
	sign: (features, a) => ({
		from: features.jagged.since[a],
		status: openPinStatus(features, a),
		summary: `${features.analogName(a)} jitters by ${figure(features.percent(features.jagged.rms[a]))} % FS rms from frame to frame, whatever the hand does.`,
		evidence: evidenceOf({
			noisePercentFs: figure(features.percent(features.jagged.rms[a])),
			seconds: figure(lasted(features, a)),
		}),
	}),
};

/** Seconds for which the channel has jittered without a pause. */
function lasted(features: Features, a: number): number {
	const since = features.jagged.since[a];
	return Number.isNaN(since) ? 0 : features.now - since;
}
