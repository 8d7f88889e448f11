import type {Features} from '../features/features.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure} from './figures.ts';

/** out-of-spec: frames are late and the next longer line breaks it. */
export const lineSaturated: Fault = {
	code: 'line-saturated',
	status: 'out-of-spec',
	scope: 'link',
	title: 'serial line is full',
	definition: 'The serial line carries nearly all it can.',
	physics:
		'Eight data bits cost ten bit times: 115200 baud carry 11 520 bytes/s. A full line makes the send buffer grow: every frame waits, and then frames or bytes are lost.',
	causes: [
		'Lines too long or too frequent for the baud rate.',
		'The loop sends without a timer, as fast as the line lets it.',
		'Debug prints between the frames.',
	],
	checks: [
		{measure: 'Bytes per line × frames per second, beside baud / 10', expect: 'below 70 %'},
		{measure: 'Read the firmware: is sending timed?', expect: 'yes, for example every 16 ms'},
		{measure: 'Stray lines', expect: 'none'},
	],
	remedy: [
		'Raise the baud rate at both ends (250000 and 500000 are exact from 16 MHz).',
		'Send on a timer; fewer digits, no labels.',
		'Take debug prints out.',
	],
	thresholds:
		'92 % of baud / 10 (8N1: ten bit times a byte) leaves no room for one late frame; above 70 % is tight, above 90 % full (common practice). 75 % must pass.',
	everyTicks: 2,
	detect,
};

/** Geometric mean of the definition's must (92 % of the line) and must not (75 %). */
const leastLoad = 0.83;
const windowTicks = 12;

/** Each single second must be full as well: what a host held back and delivers at once fills no line. */
const leastSecond = 0.7;

/** Start bit, eight data bits, stop bit. */
const bitsPerByte = 10;

function detect(features: Features): Verdict {
	const {link} = features;
	const {ticks} = link;
	if (link.baud === null || link.timing === 'assumed' || link.frames < 10) return undefined;
	if (!(features.now - link.firstByteAt >= windowTicks / 4)) return undefined;
	const bytesPerSecond = ticks.total(ticks.bytes, windowTicks) / (windowTicks / 4);
	const load = (bytesPerSecond * bitsPerByte) / link.baud;
	if (load < 0.75) return 'gone';
	if (load < leastLoad) return undefined;
	for (let second = 1; second <= windowTicks / 4; second++) {
		const bytes = ticks.total(ticks.bytes, 4 * second) - ticks.total(ticks.bytes, 4 * (second - 1));
		if (bytes * bitsPerByte < leastSecond * link.baud) return undefined;
	}
	return {
		from: before(features, windowTicks / 4),
		confidence: Math.min(0.95, load),
		summary: `${Math.round(bytesPerSecond)} bytes a second fill ${figure(100 * load)} % of a line at ${link.baud} baud.`,
		evidence: {
			loadPercent: figure(100 * load),
			bytesPerSecond: Math.round(bytesPerSecond),
			capacity: link.baud / bitsPerByte,
		},
	};
}
