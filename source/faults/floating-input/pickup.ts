import {evidenceOf} from '../evidence.ts';
import type {Way} from '../fault.ts';
import {figure, percentFs} from '../figures.ts';
import {atLeast, atMost, chances} from '../gates/gate.ts';
import {isNarrow, narrow} from '../gates/narrow-line.ts';
import {isUnrelated, openPinStatus} from '../gates/open-pin.ts';

/** An open pin that picks up mains, and has no travel of its own. */
export const pickup: Way = {
	name: 'pickup',
	limits: {
		windows: {
			raise: 2,
			must: null,
			mustNot: null,
			unit: 'windows of two seconds at rest',
			because: 'two agree, half a second apart; what follows its finger is judged by more (mains-hum)',
		},
		pickup: {
			raise: 3,
			clear: 1.5,
			must: 3,
			mustNot: null,
			unit: '% FS peak of a 50 or 60 Hz line',
			because:
				'a wired pot of 10 kΩ is too strong a source to be moved so far by a field (check-values D5.2); twice what mains-hum asks',
		},
		pickupMost: {
			raise: 50,
			must: null,
			mustNot: null,
			unit: '% FS peak at the most',
			because: 'a line cannot be higher than half of the scale: what seems to be comes of damaged numbers',
		},
		narrow,
	},
	gates: [
		chances('windows', (features, a) => features.mainsLines.windows(a), 'rest the hand for three seconds'),
		atLeast('pickup', (features, a) => features.percentOfConverter(features.mainsLines.peak(a))),
		atMost('pickupMost', (features, a) => features.percentOfConverter(features.mainsLines.peak(a))),
		isNarrow,
		isUnrelated,
	],
	sign: (features, a) => {
		const peak = features.mainsLines.peak(a);
		const hertz = features.mainsLines.hertz(a, features.framesPerSecond ?? 0);
		return {
			from: features.mainsLines.since(a),
			seenAt: features.mainsLines.seenAt(a),
			status: openPinStatus(features, a),
			summary: `${features.analogName(a)} picks up ${hertz} Hz, ${percentFs(features, peak)} % FS peak, and has no travel of its own.`,
			evidence: evidenceOf({pickupPercentFs: figure(features.percent(peak)), mainsHertz: hertz}),
		};
	},
};
