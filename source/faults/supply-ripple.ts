import type {Features} from '../features/features.ts';
import {moving, still} from '../features/supply-leaps.ts';
import {sumOf} from '../math/sums.ts';
import {rewiringCaution, servoCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {figure, percentFs, percentOf} from './figures.ts';
import {atLeast, atMost, chances, ground, type Limit} from './gates/gate.ts';

const limits: Readonly<Record<'rate' | 'wired' | 'halfSeconds' | 'leaps' | 'ago', Limit>> = {
	rate: {
		raise: 35,
		must: 35,
		mustNot: null,
		unit: 'frames/s',
		because: 'below that a quick movement leaps from frame to frame as a supply does: half a tap at 7 Hz lasts 71 ms',
	},
	wired: {
		raise: 3,
		must: 3,
		mustNot: null,
		unit: 'analog channels that have moved by themselves',
		because:
			'two may share a cord, a wire or a palm; open pins copy each other and hum in phase, so that only what has moved by itself counts',
	},
	halfSeconds: {
		raise: 3,
		must: 3,
		mustNot: null,
		unit: 'half seconds with all of them off the rails',
		because: 'as many as have to show it',
	},
	leaps: {
		raise: 3,
		must: 3,
		mustNot: 0,
		unit: 'half seconds in which all leap together',
		because:
			'of x[n] − (x[n−1] + x[n+1])/2: correlation ≥ 0.8 in all pairs, rms ≥ 0.5 % FS and ≥ 0.4 of the rms of first differences, rms by level alike within 1.4, no channel at a rail (check-values D5.4). On real hands all pairs correlate so only where a supply shakes (check-values H-real); three pairs of separate noise do over 25 frames hardly once in a million. Three half seconds leave room for a damaged line.',
	},
	ago: {
		raise: 20,
		must: null,
		mustNot: null,
		unit: 's since the latest of them',
		because:
			'a poor joint leaps in 14.5 % of moving half seconds (check-values H-real): twenty seconds, half of them moving, without one are chance once in 23 (0.855²⁰)',
	},
};

function leapt({supplyLeaps}: Features): number {
	return sumOf(supplyLeaps.leapt);
}

/** What to look at first where the leaps come with movement: servos shake a still hand as well. */
const wiggle =
	'Hold the hand still and wiggle the common supply and ground leads of the pots, from joint to joint — steady; readings that all leap: a poor joint in the common lead, mend that first';

/** out-of-spec: all readings share one disturbance. */
export const supplyRipple: Fault<'supply-ripple'> = {
	code: 'supply-ripple',
	status: 'out-of-spec',
	scope: 'link',
	readsCounts: true,
	listedAfter: 'crosstalk',
	sees: 'noisy, or moves by itself',
	title: 'supply shakes all channels',
	intermittent: true,
	definition:
		'All wired analog channels leap together from frame to frame, in proportion to their level, at rest or in motion.',
	physics:
		"A pot fed from the converter's own reference is ratiometric: the supply cancels. Where pots and reference come from different places, every change of one against the other multiplies all readings by the same factor.",
	causes: [
		'Motors or servos on the same 5 V as the pots.',
		'The pots are fed from USB 5 V while the converter uses another reference (a regulator, an internal one).',
		'A poor joint in the common supply of the pots: 50 Ω with five pots take 2.4 % off all of them.',
		'Radio bursts on a board whose supply sags; a thin or long USB cable.',
		'A noisy switching supply or power bank.',
	],
	measurements: [
		{measure: 'Unplug motors and servos, watch the rest noise', expect: 'calm now: they share the supply of the pots'},
		{measure: 'Meter on AC volts across the supply of the pots', expect: 'under 20 mV'},
		{
			measure: "Volts from the pots' supply lug to the converter's reference pin",
			expect: 'under 20 mV; more: two supplies',
		},
		{measure: 'Volts at the USB socket of the board with everything running', expect: '4.75–5.25 V'},
		{measure: 'The same with another cable, port or supply', expect: 'no change; calmer: that one was at fault'},
	],
	remedy: [
		"Feed the pots from the converter's reference (5V or 3V3 pin of the board).",
		'Give servos their own supply, grounds joined at one point.',
		'Solder 100 µF and 100 nF across the supply of the pots.',
		'Mend the common supply joint; use a short, thick cable.',
	],
	caution: `${servoCaution} ${rewiringCaution}`,
	everyTicks: 2,
	ways: [
		{
			name: 'leaps',
			limits,
			gates: [
				ground(
					'rate',
					`at least ${limits.rate.raise} ${limits.rate.unit}`,
					({framesPerSecond}) => framesPerSecond === undefined || framesPerSecond >= limits.rate.raise,
				),
				ground(
					'channels',
					`at least ${limits.wired.raise} analog channels`,
					({analog}) => analog.columns.length >= limits.wired.raise,
				),
				chances('wired', ({supplyLeaps}) => supplyLeaps.channels, 'bend each finger, there and back'),
				chances('halfSeconds', ({supplyLeaps}) => sumOf(supplyLeaps.judged), 'leave the glove on for two seconds'),
				atLeast('leaps', leapt),
				atMost('ago', ({supplyLeaps, now}) => now - supplyLeaps.seenAt),
			],
			sign: features => {
				const {supplyLeaps} = features;
				const {channels, rms, correlation, depth, comesWithMovement, judged, leapt: hits} = supplyLeaps;
				const when = comesWithMovement ? ', mostly while the hand moves' : '';
				return {
					from: supplyLeaps.from,
					seenAt: supplyLeaps.seenAt,
					advice: comesWithMovement ? [wiggle] : [],
					summary: `All ${channels} wired analog channels leap together by up to ${percentFs(features, rms)} % FS rms from frame to frame, the higher the reading the more${when}.`,
					evidence: evidenceOf({
						channels,
						halfSecondsStill: `${hits[still]} of ${judged[still]}`,
						halfSecondsMoving: `${hits[moving]} of ${judged[moving]}`,
						rmsPercentFs: percentFs(features, rms),
						correlation: figure(correlation),
						percentOfLevel: percentOf(depth),
					}),
				};
			},
		},
	],
};
