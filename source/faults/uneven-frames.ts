import type {Features} from '../features/features.ts';
import {servoCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure} from './figures.ts';

/** out-of-spec: speed and smoothing computed from these frames are in doubt. */
export const unevenFrames: Fault = {
	code: 'uneven-frames',
	status: 'out-of-spec',
	scope: 'link',
	title: 'uneven frame spacing',
	definition: 'The spacing of the frames varies much.',
	physics:
		'Interarrival jitter J is smoothed with a gain of 1/16 from |D|, the change of transit time between frames (RFC 3550); it is a mean deviation, not a standard deviation. A loop that does something long every few passes shows as jitter.',
	causes: [
		'The loop has no fixed period: it sends as soon as it is round, and some rounds are longer.',
		'Something slow every few passes: display, SD card, servo, Wi-Fi.',
		'The host is busy, or a hub shares the bus.',
		'Bluetooth under interference.',
	],
	checks: [
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
	thresholds:
		"30 % of the median interval smears a stream of 30 frames/s by 10 ms; 12 % is left by millisecond clocks (16 MHz AVR: a step of 1.024 ms, 0.41 ms rms, from memory) and USB framing. Judged by the board's own clock where the frame carries one, and not where delivery comes in batches. Jitter: RFC 3550, 6.4.1 and A.8.",
	everyTicks: 2,
	detect,
};

/** Geometric mean of the definition's must (30 % of the median interval) and must not (12 %). */
const leastShare = 0.19;
const goneShare = 0.12;
const windowTicks = 12;
const leastFrames = 40;

/** Frames that come in one breath with the one before: batches of a bridge or a radio, not an unsteady sender. */
const batchedShare = 0.25;

function detect(features: Features): Verdict {
	const {link} = features;
	const {ticks} = link;
	const frames = ticks.total(ticks.frames, windowTicks);
	if (!link.spacingKnown || frames < leastFrames || !(link.nominal > 0)) return undefined;
	const share =
		ticks.total(ticks.jitter, windowTicks) / Math.max(1, ticks.total(ticks.spaced, windowTicks)) / link.nominal;
	if (share < goneShare) return 'gone';
	if (share < leastShare) return undefined;
	let together = 0;
	let seen = 0;
	for (let back = 0; back + 1 < Math.min(link.arrivalsHeld, frames); back++, seen++) {
		if (link.arrival(back) - link.arrival(back + 1) < 0.1 * link.nominal) together++;
	}
	if (together >= batchedShare * seen) return undefined;
	return {
		from: before(features, windowTicks / 4),
		confidence: Math.min(0.95, 0.5 + share),
		summary: `Frame spacing jitters by ${figure(1000 * share * link.nominal)} ms, ${figure(100 * share)} % of the median interval of ${figure(1000 * link.nominal)} ms.`,
		evidence: {
			jitterMs: figure(1000 * share * link.nominal),
			medianIntervalMs: figure(1000 * link.nominal),
			jitterPercent: figure(100 * share),
		},
	};
}
