import {evidenceOf} from '../evidence.ts';
import type {Way} from '../fault.ts';
import {figure} from '../figures.ts';
import {atLeast, atMost, chances, unless} from '../gates/gate.ts';
import {openPinStatus} from '../gates/open-pin.ts';

/** An open pin that repeats the channel read just before it. */
export const ghost: Way = {
	name: 'ghost',
	limits: {
		trips: {
			raise: 6,
			must: 6,
			mustNot: null,
			unit: 'trips of the channel before in a row',
			because:
				'neighbouring fingers may move alike once or twice, not to within a hundredth six times (check-values D5.4)',
		},
		left: {
			raise: 1,
			clear: 2,
			must: 1,
			mustNot: null,
			unit: 'of what may be left of a copy (0.6 % of its own range or 1.5 rest noises, at most 0.8 % FS)',
			because:
				'a copy holds to the last count; fingers of one hand differ by 1 % of their way and more even when moved by one bar (check-values H-real: paths differ by a median of 16 % of span)',
		},
		gain: {
			raise: 0.3,
			clear: 0.2,
			must: 0.3,
			mustNot: null,
			unit: 'of the channel before, at the least',
			because: 'the converter keeps most of the charge of the reading before (14 pF on the ATmega328P, data sheet)',
		},
		gainMost: {
			raise: 0.98,
			clear: 1.02,
			must: 0.98,
			mustNot: null,
			unit: 'of the channel before, at the most',
			because: 'an open pin loses some of the charge; an equal copy is duplicate-channel',
		},
	},
	gates: [
		chances(
			'trips',
			(features, a) => features.ghosts.trips[a],
			'move the finger before it in scan order, there and back three times',
		),
		atMost(
			'left',
			(features, a) => features.ghosts.leftOf(features, a),
			(features, a, most) => features.ghosts.leaves(features, a, most),
		),
		atLeast('gain', (features, a) => features.ghosts.gainOf(features, a)),
		atMost('gainMost', (features, a) => features.ghosts.gainOf(features, a)),
		unless('movedSince', 'a channel that has not moved by itself since', ({ghosts, proof}, a) =>
			proof.aloneAt[a] > ghosts.seenAt[a] ? 'it moved while the channel before it rested' : undefined,
		),
		unless('allAlike', 'another pair of fingers that is no copy, or copies that fade down the row', (features, a) => {
			const {all, mostGain} = features.ghosts.areAllCopies(features, a);
			return all && mostGain > ghost.limits.gainMost.raise
				? `all fingers move as one, gain ${figure(mostGain)}`
				: undefined;
		}),
	],
	sign: (features, a) => {
		const before = features.analogName(a - 1);
		const gain = figure(features.ghosts.gainOf(features, a));
		return {
			from: features.ghosts.from[a],
			status: features.ghosts.areAllCopies(features, a).all ? 'function-check' : openPinStatus(features, a),
			summary: `${features.analogName(a)} repeats ${before}, the channel read just before it, ${gain} times as large, and has not moved by itself.`,
			evidence: evidenceOf({
				gain,
				copyOf: before,
				leftOfAllowed: figure(features.ghosts.leftOf(features, a)),
				trips: features.ghosts.trips[a],
			}),
		};
	},
};
