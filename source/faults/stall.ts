import type {Features} from '../features/features.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {figure, inMilliseconds, milliseconds} from './figures.ts';
import {atLeast, atMost, chances, unless} from './gates/gate.ts';
import {isTimed, listen} from './gates/link.ts';

/** out-of-spec: fine before and after, blind in between. */
export const stall: Fault<'stall'> = {
	code: 'stall',
	status: 'out-of-spec',
	scope: 'link',
	intermittent: true,
	listedAfter: 'uneven-frames',
	sees: 'the link',
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
	measurements: [
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
	ways: [
		{
			name: 'pause',
			limits: {
				intervals: {
					raise: 20,
					must: null,
					mustNot: null,
					unit: 'intervals',
					because: 'the median of twenty is within a few per cent of the usual interval of any timed loop',
				},
				usual: {
					raise: 60,
					must: 60,
					mustNot: null,
					unit: 'ms between frames, the median',
					because: 'a slower stream has no rhythm that half a second would break: that is for slow-frames to tell',
				},
				gap: {
					raise: 0.5,
					must: 0.5,
					mustNot: null,
					unit: 'seconds without a frame',
					because:
						'scheduling of a desktop host and the usual gaps of Bluetooth (up to 300 ms, common practice, no source) stay below',
				},
				medians: {
					raise: 10,
					must: 10,
					mustNot: 5,
					unit: 'median intervals without a frame',
					because: 'ten frames missing at once; five times the median is an ordinary hiccup',
				},
			},
			gates: [
				isTimed,
				chances('intervals', ({link}) => link.spacing.intervals.total, listen),
				atMost('usual', ({link}) => inMilliseconds(link.spacing.median)),
				atLeast('gap', ({link}) => pauseOf(link)),
				atLeast('medians', ({link}) =>
					link.spacing.median > 0 ? pauseOf(link) / link.spacing.median : Number.POSITIVE_INFINITY,
				),
				// They were sent and did not come: the link lost them.
				unless('lost', 'frames that came late or were not sent', ({link}) => {
					const {pauseLost, median} = link.spacing;
					return 2 * pauseLost[0] * median > pauseOf(link) ? `the counter went on by ${pauseLost[0]}` : undefined;
				}),
			],
			sign: ({link}) => {
				const {pauseFrom, pauseTo, median} = link.spacing;
				const seconds = figure(pauseOf(link));
				return {
					from: pauseFrom[0],
					flaggedAt: pauseTo[0],
					to: pauseTo[0],
					seenAt: pauseTo[0],
					summary: `The stream stopped for ${seconds} s and went on; frames usually come ${median > 0 ? `every ${milliseconds(median)} ms` : 'several at a time'}.`,
					evidence: evidenceOf({gapSeconds: seconds, medianIntervalMs: milliseconds(median)}),
				};
			},
		},
	],
};

/** Length of the latest pause, seconds; 0 before one. */
function pauseOf({spacing}: Features['link']): number {
	return spacing.pauseTo[0] - spacing.pauseFrom[0] || 0;
}
