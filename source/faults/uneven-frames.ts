import type {Features} from '../features/features.ts';
import {servoCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault, Way} from './fault.ts';
import {figure, inPercent, milliseconds} from './figures.ts';
import {atLeast, chances, type Gate, type Limit} from './gates/gate.ts';
import {isOver, listen, spacingKnown} from './gates/link.ts';

const jitter: Limit = {
	raise: 30,
	clear: 19,
	must: 30,
	mustNot: 12,
	unit: '% of the median interval: RFC 3550 jitter, 95th percentile',
	because:
		'30 % smears a stream of 30 frames/s by 10 ms; 12 % is left by millisecond clocks (16 MHz AVR: a step of 1.024 ms, 0.41 ms rms, from memory) and USB framing. Over at the geometric mean of both',
};

const lines: Limit = {
	raise: 750,
	must: null,
	mustNot: null,
	unit: 'lines',
	because:
		'one hiccup of just under half a second (more is a stall) lifts the smoothed jitter of a stream of 100/s above the limit for 36 lines, and what a port held back when it was opened for as many: 5 % of 750',
};

const allLines: Limit = {
	raise: 200,
	must: null,
	mustNot: null,
	unit: 'lines',
	because: 'a stream that ends sooner is judged by what there is; the percentile of fewer hangs on ten lines',
};

function uneven(name: string, heard: Limit, ...grounds: readonly Gate[]): Way {
	return {
		name,
		limits: {heard, jitter},
		gates: [
			spacingKnown,
			...grounds,
			chances('heard', ({link}) => link.spacing.judged, listen),
			atLeast('jitter', jitterPercent),
		],
		sign: features => {
			const {link} = features;
			const {mostJitter, median} = link.spacing;
			const share = figure(jitterPercent(features) ?? 0);
			return {
				from: link.arrivals.firstInEpoch,
				summary: `Frame spacing jitters by up to ${milliseconds(mostJitter)} ms, ${share} % of the median interval of ${milliseconds(median)} ms.`,
				evidence: evidenceOf({
					jitterMs: milliseconds(mostJitter),
					medianIntervalMs: milliseconds(median),
					jitterPercent: share,
				}),
			};
		},
	};
}

/** out-of-spec: speed and smoothing computed from these frames are in doubt. */
export const unevenFrames: Fault<'uneven-frames'> = {
	code: 'uneven-frames',
	status: 'out-of-spec',
	scope: 'link',
	listedAfter: 'slow-frames',
	sees: 'the link',
	title: 'uneven frame spacing',
	definition: 'The spacing of the frames varies much.',
	physics:
		'Interarrival jitter J is smoothed with a gain of 1/16 from |D|, the change of transit time between frames (RFC 3550); it is a mean deviation, not a standard deviation. A loop that does something long every few passes shows as jitter.',
	causes: [
		'The loop has no fixed period: it sends as soon as it is round, and some rounds are longer.',
		'Something slow every few passes: display, SD card, servo, Wi-Fi.',
		'The host is busy, or a hub shares the bus.',
		'A USB bridge that hands over every 16 ms (its latency timer) what came meanwhile.',
		'Bluetooth under interference.',
	],
	measurements: [
		{
			measure: "Add the board's clock to each frame (millis or micros)",
			expect: 'even: the board is fine, the link is not',
		},
		{measure: 'Read the firmware: what runs only in some passes?', expect: 'nothing longer than a frame'},
		{measure: 'The same with a direct port, no hub', expect: 'no change; steadier: hub or cable'},
		{measure: 'Host load and other programs', expect: 'idle'},
	],
	remedy: [
		'Send on a timer, not at the end of the loop.',
		'Move slow work to the gaps, in small parts.',
		"Send the board's time with each frame and use that.",
	],
	caution: servoCaution,
	ways: [uneven('so far', lines), uneven('to the end', allLines, isOver)],
};

function jitterPercent({link}: Features): number | undefined {
	const {median, mostJitter} = link.spacing;
	return median > 0 ? inPercent(mostJitter / median) : undefined;
}
