import type {Features} from '../features/features.ts';
import {servoCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure} from './figures.ts';

/** out-of-spec: readings are right but late. */
export const slowFrames: Fault = {
	code: 'slow-frames',
	status: 'out-of-spec',
	scope: 'link',
	title: 'fewer frames than wanted',
	definition: 'The frame rate stays under the target (30 per second unless the sheet says otherwise).',
	physics:
		'A frame takes reading time, computing and wire time. At 9600 baud a line of 40 bytes takes 42 ms: 24 frames/s at most, whatever the board does. A fist closes and opens at 3 Hz: below 25 frames/s that is less than eight frames a cycle.',
	causes: [
		'delay() or waiting code in the loop.',
		'The baud rate is too low for the length of the line.',
		'The loop waits for a slow device: display, LED strip, servo, radio.',
		'Many readings averaged per channel.',
		'Bluetooth or a radio bridge with its own pace.',
	],
	checks: [
		{measure: 'Bytes per line times frames per second, beside baud / 10', expect: 'below 70 %; near 100 %: raise baud'},
		{measure: 'Read the firmware: delay(), pulseIn(), long averaging', expect: 'total under 20 ms per pass'},
		{
			measure: 'Rate with everything but reading and printing commented out',
			expect: 'rises: add parts back one by one',
		},
		{measure: 'Rate over USB instead of radio', expect: 'the same; higher: the radio limits'},
	],
	remedy: [
		'Replace delay() by a timer: send when 16 ms have passed.',
		'Use 115200 or more; shorten the line.',
		'Update displays and LEDs every tenth frame.',
	],
	caution: servoCaution,
	thresholds:
		'30 frames/s is the usual target for hand movement (common practice); 25 is a sixth below, 45 is half as much again and beyond doubt. The fastest fist runs at 3.2–3.4 Hz (grip-and-release norms). Ten bit times per byte (8N1).',
	everyTicks: 2,
	detect,
};

/** Share of the target below which frames are slow: 27/s of 30, between the definition's must (25/s) and must not (45/s). */
const leastShare = 0.9;
const windowSeconds = 3;

function detect(features: Features): Verdict {
	const {link} = features;
	if (!link.spacingKnown || link.frames < 8 || !(features.now - link.firstFrameAt >= windowSeconds)) return undefined;
	// Plainly fast enough: no need to look at single intervals.
	if (link.ticks.total(link.ticks.frames, 4 * windowSeconds) >= 1.1 * windowSeconds * link.targetRate) return 'gone';
	const intervals: number[] = [];
	for (let back = 0; back + 1 < Math.min(link.arrivalsHeld, 512); back++) {
		const at = link.arrival(back);
		if (at < features.now - windowSeconds) break;
		intervals.push(at - link.arrival(back + 1));
	}
	if (intervals.length < 3) return undefined;
	const sum = intervals.reduce((total, interval) => total + interval, 0);
	intervals.sort((one, other) => one - other);
	const median = intervals[intervals.length >> 1];
	// Both the mean and the typical interval: one pause, or frames in clumps, make no slow sender.
	const mean = intervals.length / sum;
	const limit = leastShare * link.targetRate;
	if (mean >= 1.05 * limit) return 'gone';
	if (mean >= limit || 1 / median >= limit) return undefined;
	return {
		from: before(features, windowSeconds),
		confidence: Math.min(0.95, 0.6 + 0.4 * (1 - mean / link.targetRate)),
		summary: `${figure(mean)} frames arrive a second; the target is ${link.targetRate}.`,
		evidence: {framesPerSecond: figure(mean), target: link.targetRate, medianIntervalMs: figure(1000 * median)},
	};
}
