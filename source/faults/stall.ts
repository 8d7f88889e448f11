import type {Features} from '../features/features.ts';
import type {Fault, Verdict} from './fault.ts';
import {figure} from './figures.ts';

/** out-of-spec: fine before and after, blind in between. */
export const stall: Fault = {
	code: 'stall',
	status: 'out-of-spec',
	scope: 'link',
	title: 'stream stops and goes on',
	definition: 'The stream stops for half a second or longer and then goes on by itself.',
	physics:
		'Either nothing was sent (the loop hung), or it was held up (radio, USB power saving) and arrives in one lump afterwards.',
	causes: [
		'The firmware waits: a blocking call, a sensor on a hung bus, a time-out.',
		'Radio contention: Bluetooth gaps of 100–300 ms are usual, half a second is not.',
		'USB power saving, a hub, or a loose plug that reconnects.',
		'The host was suspended.',
	],
	checks: [
		{
			measure: 'Counter or clock of the frame after the gap',
			expect: 'goes on: sent late; jumped: frames lost on the way',
		},
		{measure: 'Wiggle the USB plug and cable', expect: 'no gap'},
		{measure: 'Gaps with the radio close by and other radios off', expect: 'gone: radio contention'},
		{measure: 'Read the firmware: calls that wait', expect: 'all have short time-outs'},
	],
	remedy: [
		'Give every waiting call a short time-out.',
		'Another cable, port or hub; switch off USB power saving for the port.',
		'Keep radio and antenna clear of the hand and of metal.',
	],
	thresholds:
		'Half a second at a median interval of 50 ms or less is ten frames missing at once; scheduling of a desktop host and usual Bluetooth gaps (up to 300 ms, common practice) stay below. Five times the median must pass. A gap that a restart explains is reported as the restart.',
	detect,
};

/** The definition: half a second where frames usually come every 50 ms or faster; five medians are still ordinary. */
const leastSeconds = 0.5;
const mostMedian = 0.05;
const leastRatio = 5;

function detect(features: Features): Verdict {
	const {link} = features;
	if (link.timing === 'assumed') return undefined;
	const pause = link.pauses[link.pauses.length - 1];
	// Told once, at the evaluation after the stream has gone on.
	if (pause === undefined || pause.to < features.now - 0.5) return undefined;
	const median =
		pause.nominal > 0 ? pause.nominal : (link.lastFrameAt - link.firstFrameAt) / Math.max(1, link.frames - 1);
	const lasted = pause.to - pause.from;
	if (lasted < leastSeconds || median > mostMedian || lasted < leastRatio * median) return undefined;
	if (link.restarts.some(({t}) => t >= pause.from - 0.05 && t <= pause.to + 0.25)) return undefined;
	return {
		from: pause.from,
		flaggedAt: pause.to,
		to: pause.to,
		confidence: 0.9,
		summary: `The stream stopped for ${figure(lasted)} s and went on; frames usually come every ${figure(1000 * median)} ms.`,
		evidence: {gapSeconds: figure(lasted), medianIntervalMs: figure(1000 * median), stalls: link.pauses.length},
	};
}
