import {evidenceOf} from '../evidence.ts';
import type {Way} from '../fault.ts';
import {percentFs} from '../figures.ts';
import {atLeast, chances} from '../gates/gate.ts';
import {isUnrelated, openPinStatus} from '../gates/open-pin.ts';

/** An open pin that is lifted by a touch and leaks away, again and again. */
export const sinking: Way = {
	name: 'sinking',
	limits: {
		watched: {
			raise: 5,
			must: null,
			mustNot: null,
			unit: 's watched',
			because: 'three sinks of a second each and what lifts them',
		},
		sinks: {
			raise: 3,
			clear: 1,
			must: 3,
			mustNot: null,
			unit: 'sinks in a minute, each after a leap within two frames',
			because:
				'each at least 5 % FS (check-values D5.2), slowing down as charge leaks away: a finger neither leaps nor leaks; three, so that a knock and a slow hand are not taken for it',
		},
	},
	gates: [
		chances('watched', features => features.watchedSeconds, 'leave the glove on for five seconds'),
		atLeast('sinks', (features, a) => features.sinks.recent(a, features.now).count),
		isUnrelated,
	],
	sign: (features, a) => {
		const {count, from} = features.sinks.recent(a, features.now);
		return {
			from,
			status: openPinStatus(features, a),
			summary: `${features.analogName(a)} leapt up and sank away again ${count} times, last by ${percentFs(features, features.sinks.depth[a])} % FS; nothing moved it.`,
			evidence: evidenceOf({sinks: count, depthPercentFs: percentFs(features, features.sinks.depth[a])}),
		};
	},
};
