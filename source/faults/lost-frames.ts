import type {Features} from '../features/features.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault, Sign} from './fault.ts';
import {figure, inPercent} from './figures.ts';
import {atLeast, chances, unless} from './gates/gate.ts';
import {hasCounter, listen} from './gates/link.ts';

/** A counter of loops skips where nothing is sent, and nothing is sent where nothing changes. */
const sendsAll = unless('sends', 'a board that sends every frame', ({repeats}) =>
	repeats.sendsOnChange ? 'it sends only what has changed' : undefined,
);

/** out-of-spec: what arrives is good, but not all of it arrives. */
export const lostFrames: Fault<'lost-frames'> = {
	code: 'lost-frames',
	status: 'out-of-spec',
	scope: 'link',
	intermittent: true,
	listedAfter: 'bursty-delivery',
	sees: 'the link',
	title: 'frame counter skips',
	definition: 'The frame counter skips: frames were made and did not arrive.',
	physics:
		'The board counts each frame; missing numbers were lost after the counter: a full send buffer, the radio, or a receive buffer that was not read in time. An 8 bit counter that goes from 250 to 3 has skipped 8.',
	causes: [
		'The send buffer is full and the firmware drops frames.',
		'Radio losses.',
		'The host reads too slowly, or another program takes bytes.',
		'The counter is raised more than once per line sent.',
	],
	measurements: [
		{measure: 'Line load on the screen', expect: 'under 70 %'},
		{measure: 'Read the firmware: where the counter is raised', expect: 'once for each line sent'},
		{measure: 'Bad lines beside skips', expect: 'skips with bad lines: bytes lost; without: whole frames dropped'},
		{measure: 'Over USB instead of radio, other programs closed', expect: 'no skip'},
	],
	remedy: [
		'Lower the rate or raise the baud rate.',
		'Move the antenna; shorten the distance.',
		'Count lines, not passes of the loop.',
	],
	ways: [
		{
			name: 'whole',
			limits: {
				counted: {
					raise: 400,
					must: null,
					mustNot: null,
					unit: 'frames with a counter',
					because: 'at the definition two of them are lost: one alone is no rate',
				},
				share: {
					raise: 0.5,
					clear: 0.25,
					must: 0.5,
					mustNot: null,
					unit: '% of all frames lost',
					because: 'one frame in 200; a sound wired link loses none',
				},
			},
			gates: [
				hasCounter,
				sendsAll,
				chances('counted', ({link}) => link.losses.counted[0], listen),
				atLeast('share', ({link}) => inPercent(link.losses.share)),
			],
			sign: features =>
				signOf(features, features.link.losses.lost[0], features.link.losses.counted[0], features.epochFrom),
		},
		{
			name: 'worst 20 s',
			limits: {
				counted: {
					raise: 250,
					must: null,
					mustNot: null,
					unit: 'frames with a counter in 20 s',
					because: 'at the definition five of them are lost',
				},
				share: {
					raise: 2,
					clear: 0.5,
					must: 2,
					mustNot: null,
					unit: '% of the frames of 20 s lost',
					because:
						'a walk out of reach of a radio is over before it shows in the whole; a hand that lags for seconds is seen',
				},
			},
			gates: [
				hasCounter,
				sendsAll,
				chances('counted', ({link}) => link.losses.windowCounted, listen),
				atLeast('share', ({link}) => inPercent(link.losses.windowShare)),
			],
			sign: features => {
				const {windowLost, windowCounted, windowFrom} = features.link.losses;
				return signOf(features, windowLost, windowCounted, windowFrom);
			},
		},
	],
};

function signOf({link}: Features, lost: number, frames: number, from: number): Sign {
	const {worstShare, worstFrom, worstTo, lostAt} = link.losses;
	const percent = figure(inPercent(lost / (lost + frames)));
	return {
		from,
		seenAt: lostAt[0],
		summary: `The frame counter skipped ${lost} of ${lost + frames} frames (${percent} %).`,
		evidence: evidenceOf({
			lost,
			frames,
			lostPercent: percent,
			...(Number.isNaN(worstShare[0])
				? {}
				: {
						worstPercent: figure(inPercent(worstShare[0])),
						worstFrom: figure(worstFrom[0]),
						worstTo: figure(worstTo[0]),
					}),
		}),
	};
}
