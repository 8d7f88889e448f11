import type {Features} from '../features/features.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure} from './figures.ts';

/** function-check: the board sends evenly and every frame is good; only the way here needs a setting. */
export const burstyDelivery: Fault = {
	code: 'bursty-delivery',
	status: 'function-check',
	scope: 'link',
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
	checks: [
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
	thresholds:
		'Evenly sent frames have no neighbour closer than a tenth of the mean interval; 60 % in groups of three or more cannot come from jitter. Latency timer 16 ms, settable 1–255 ms: FTDI application note AN232B-04. Bluetooth gaps: common practice.',
	everyTicks: 2,
	detect,
};

/** The definition's 60 % of frames in groups of three or more, less a sixth for groups cut by the window. */
const leastShare = 0.5;
const goneShare = 0.25;
const leastGroup = 3;

/** Spacing inside a group, as a share of the mean interval (definition). */
const closeShare = 0.1;
const windowSeconds = 4;
const leastFrames = 30;
const leastGroups = 3;

function detect(features: Features): Verdict {
	const {link} = features;
	if (!link.spacingKnown) return undefined;
	let frames = 1;
	const newest = link.arrival(0);
	while (frames < link.arrivalsHeld && link.arrival(frames) >= features.now - windowSeconds) frames++;
	if (frames < leastFrames) return undefined;
	const mean = (newest - link.arrival(frames - 1)) / (frames - 1);
	let grouped = 0;
	let groups = 0;
	let size = 1;
	for (let back = 0; back < frames; back++) {
		const near = back + 1 < frames && link.arrival(back) - link.arrival(back + 1) < closeShare * mean;
		if (near) size++;
		else {
			if (size >= leastGroup) {
				grouped += size;
				groups++;
			}
			size = 1;
		}
	}
	const share = grouped / frames;
	if (share < goneShare) return 'gone';
	if (share < leastShare || groups < leastGroups) return undefined;
	return {
		from: before(features, windowSeconds),
		confidence: Math.min(0.95, 0.4 + share / 1.6),
		summary: `${figure(share * 100)} % of the frames arrive in clumps of about ${figure(grouped / groups)}, ${figure(1000 * mean * (frames / groups))} ms apart.`,
		evidence: {
			groupedPercent: figure(share * 100),
			framesPerGroup: figure(grouped / groups),
			groupPeriodMs: figure(1000 * mean * (frames / groups)),
		},
	};
}
