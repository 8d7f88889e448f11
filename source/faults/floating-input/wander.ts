import type {Features} from '../../features/features.ts';
import {evidenceOf} from '../evidence.ts';
import type {Way} from '../fault.ts';
import {figure, percentFs} from '../figures.ts';
import {isProvenAside} from '../gates/fingers.ts';
import {atLeast, atMost, chances, unless} from '../gates/gate.ts';
import {isUnrelated, openPinStatus, provenFingers} from '../gates/open-pin.ts';

/** An open pin whose level wanders to and fro and never rests while the fingers do. */
export const wander: Way = {
	name: 'wander',
	limits: {
		watched: {
			raise: 5,
			must: 5,
			mustNot: null,
			unit: 's watched',
			because: 'check-values D5.2: block means over five seconds',
		},
		wander: {
			raise: 2,
			clear: 1,
			must: 2,
			mustNot: null,
			unit: '% FS rms of quarter-second means about their median',
			because:
				'a hand at rest drifts by up to 2 % FS a second into a posture and stays there (check-values H-real); it does not come back',
		},
		turns: {
			raise: 5,
			clear: 0,
			must: 5,
			mustNot: null,
			unit: 'turns to and fro in five seconds',
			because: 'new postures come seconds apart (check-values D5.2)',
		},
		most: {
			raise: 25,
			clear: 35,
			must: null,
			mustNot: null,
			unit: '% FS rms at the most',
			because:
				'an open pin wanders about the level it leaks to (390 of 1023 sinking to 300, check-values H-real); what goes from one end of the scale to the other is sent there, as by firmware that has not learned its range',
		},
		stick: {
			raise: 8,
			clear: 11,
			must: null,
			mustNot: null,
			unit: '% FS rms at the most on a stick axis',
			because:
				'a stick that is pushed beyond 22 % of half scale to both sides (stick-short-throw) has 11 % FS / √2; whoever plays does not rest it',
		},
		restlessBorrowed: {
			raise: 1,
			must: 1,
			mustNot: null,
			unit: 's in which the other fingers rest, where all its travel is that of the channel before it',
			because: 'no finger that is moved alone: its readings themselves are asked to rest, as the definition says',
		},
		restless: {
			raise: 10,
			must: null,
			mustNot: null,
			unit: 's in which the other fingers rest',
			because:
				'any finger that is moved alone wanders, but rests between (check-values D5.2); in ten seconds a builder has pulled a cord there and back twice, which proves it',
		},
	},
	gates: [
		chances('watched', features => features.watchedSeconds, 'leave the glove on for five seconds'),
		atLeast('wander', (features, a) => features.percentOfConverter(features.wanders.rms[a])),
		atLeast('turns', (features, a) => features.wanders.turns[a]),
		atMost('most', (features, a) => features.percent(features.wanders.rms[a])),
		atMost('stick', (features, a) =>
			features.handAt(a) === undefined ? features.percent(features.wanders.rms[a]) : 0,
		),
		isUnrelated,
		unless('unproven', 'a channel that is not proven, its noise left aside', (features, a) =>
			provenFingers(features).proven > 0 && isProvenAside(features, a) ? 'it has moved by itself' : undefined,
		),
		atLeast('restlessBorrowed', (features, a) =>
			provenFingers(features).proven === 0 ? Number.POSITIVE_INFINITY : features.wanders.couldRestSeconds(a),
		),
		atLeast('restless', (features, a) =>
			provenFingers(features).proven === 0 || features.ownTravel.isBorrowed(a)
				? Number.POSITIVE_INFINITY
				: features.wanders.couldRestSeconds(a),
		),
		unless('rested', 'a channel that never rested while the others did', (features, a) =>
			hasRested(features, a) ? 'it has rested for a second' : undefined,
		),
	],
	sign: (features, a) => ({
		from: features.wanders.from[a],
		status: openPinStatus(features, a),
		summary: `${features.analogName(a)} wanders by ${percentFs(features, features.wanders.rms[a])} % FS rms, ${features.wanders.turns[a]} times to and fro in five seconds, and does not rest when the fingers do.`,
		evidence: evidenceOf({
			wanderPercentFs: percentFs(features, features.wanders.rms[a]),
			turns: features.wanders.turns[a],
			noisePercentFs: figure(features.percent(features.analog.noise.of(a))),
		}),
	}),
};

function hasRested(features: Features, a: number): boolean {
	const {rested, restedClosely} = features.wanders;
	const byTheLetter = features.ownTravel.isBorrowed(a) || provenFingers(features).proven === 0;
	return (byTheLetter ? restedClosely : rested)[a] === 1;
}
