import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {figure, inPercent, milliseconds, percentOf} from './figures.ts';
import {atLeast, chances} from './gates/gate.ts';
import {listen, spacingKnown} from './gates/link.ts';

/** function-check: the board sends evenly and every frame is good; only the way here needs a setting. */
export const burstyDelivery: Fault<'bursty-delivery'> = {
	code: 'bursty-delivery',
	status: 'function-check',
	scope: 'link',
	listedAfter: 'stall',
	sees: 'the link',
	title: 'frames arrive in clumps',
	definition: 'Frames come in groups with pauses between, while the board sends evenly.',
	physics:
		'USB serial bridges collect bytes until a packet is full (62 bytes on a common family) or a latency timer runs out, 16 ms by default. Bluetooth serial collects several lines per radio slot. The mean rate is right, the age of each frame is not.',
	causes: [
		"The USB bridge's latency timer of 16 ms.",
		'Bluetooth serial: clumps with gaps of 10–60 ms are its nature.',
		'A program in between (terminal, virtual machine, network bridge) that buffers.',
		'The firmware collects several lines before it sends.',
	],
	measurements: [
		{measure: 'Latency timer of the port (driver settings; sysfs on Linux)', expect: '1 ms; 16 ms is the default'},
		{measure: 'Spacing of the clumps', expect: '16 ms: the latency timer; 10–60 ms and uneven: Bluetooth'},
		{measure: "Add the board's clock to each frame", expect: 'even: only delivery is in clumps'},
		{measure: 'The same glove on a cable', expect: 'even: the radio does it'},
	],
	remedy: [
		'Set the latency timer to 1 ms.',
		"Use the board's clock column for timing.",
		'Accept it on Bluetooth, and smooth with it in mind.',
	],
	ways: [
		{
			name: 'clumps',
			limits: {
				frames: {
					raise: 60,
					must: null,
					mustNot: null,
					unit: 'frames',
					because:
						'at least half a dozen clumps of the usual sizes; what a port held back when it was opened is one of them',
				},
				clumps: {
					raise: 3,
					clear: 1,
					must: null,
					mustNot: null,
					unit: 'clumps in ten seconds',
					because: 'a host that hung once or twice hands over one clump each time; batches come again and again',
				},
				share: {
					raise: 60,
					clear: 25,
					must: 60,
					mustNot: null,
					unit: '% of the frames come in clumps of three and more',
					because:
						'evenly sent frames have no neighbour closer than a tenth of the mean interval, and jitter brings no such clumps (latency timers of USB bridges: 16 ms, settable 1–255 ms, FTDI application note AN232B-04); by definition',
				},
			},
			gates: [
				spacingKnown,
				chances('frames', ({link}) => link.arrivals.inEpoch, listen),
				atLeast('clumps', ({link}) => link.clumps.clumps[0]),
				atLeast('share', ({link}) => inPercent(link.clumps.share[0])),
			],
			sign: ({link}) => {
				const {share, clumps, grouped, seconds, frames, from} = link.clumps;
				const perClump = grouped[0] / clumps[0];
				// What came between the clumps takes its part of the time.
				const period = (seconds[0] * perClump) / frames[0];
				return {
					from: from[0],
					summary: `${percentOf(share[0])} % of the frames arrive in clumps of about ${figure(perClump)}, ${milliseconds(period)} ms apart.`,
					evidence: evidenceOf({
						groupedPercent: percentOf(share[0]),
						framesPerGroup: figure(perClump),
						groupPeriodMs: milliseconds(period),
					}),
				};
			},
		},
	],
};
