import type {Features} from '../features/features.ts';
import {rewiringCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure, percentFs} from './figures.ts';

/** failure: one finger's own signal is missing. */
export const duplicateChannel: Fault = {
	code: 'duplicate-channel',
	status: 'failure',
	scope: 'analog',
	title: 'one signal on two channels',
	definition: 'Two channels are one and the same, frame by frame.',
	physics:
		'Two converter readings of the same voltage differ by noise; the same number twice means it was read once and sent twice, or the two inputs are joined.',
	causes: [
		'The firmware reads the same pin for both channels.',
		'The firmware prints the same variable twice.',
		'A solder bridge or whisker joins two neighbouring pins.',
		'Both wires are in the same row of a breadboard.',
	],
	checks: [
		{measure: 'Bend only one of the two fingers', expect: 'one of the two channels moves'},
		{measure: 'Read the pin list of the firmware', expect: 'every pin occurs once'},
		{measure: 'Unplugged: resistance between the two input pins', expect: 'some kΩ; near 0 Ω: bridged'},
		{measure: 'Pull one of the two wires off', expect: 'only its own channel changes'},
	],
	remedy: [
		'Give each channel its own pin in the firmware.',
		'Clear the bridge with solder wick; look with a magnifier.',
	],
	caution: rewiringCaution,
	thresholds:
		'Two sound channels share a number by chance in a few frames of a hundred; 99.5 % leaves room for a frame cut on the line. A span of 20 % of full scale, so that two channels resting at one rail are not taken for one. Common practice, no source.',
	everyTicks: 2,
	detect,
};

/** The definition: equal in 99.5 % of frames over at least 20 % of full scale (less 2 % for what noise may hide). */
const leastAgreement = 0.995;
const leastSpan = 0.18;

function detect(features: Features, a: number): Verdict {
	const {analog, hand} = features;
	const full = analog.scale.smallest;
	const {window} = hand;
	if (window.frames < 30 || window.range(a) < leastSpan * full) return undefined;
	let best = 0;
	// The earlier channel of the pair is taken for the original.
	for (let b = 0; b < a; b++) {
		if (window.range(b) < leastSpan * full) continue;
		const agreement = window.agreement(a, b);
		best = Math.max(best, agreement);
		if (agreement < leastAgreement) continue;
		// Two that lie at the same rail agree without being one: they must agree in motion, and no wider than they move.
		if (window.correlation(a, b) < 0.99) continue;
		return {
			from: before(features, 10),
			confidence: 0.9,
			summary: `${features.analogName(a)} and ${features.analogName(b)} read the same in ${figure(agreement * 100)} % of frames over ${percentFs(features, window.range(a))} % FS.`,
			evidence: {
				sameAs: features.analogName(b),
				agreementPercent: figure(agreement * 100),
				rangePercentFs: percentFs(features, window.range(a)),
			},
		};
	}
	return best < 0.9 ? 'gone' : undefined;
}
