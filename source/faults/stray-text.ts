import type {Features} from '../features/features.ts';
import type {Fault, Verdict} from './fault.ts';

/** function-check: the frames are good; someone left a print in. */
export const strayText: Fault = {
	code: 'stray-text',
	status: 'function-check',
	scope: 'link',
	title: 'lines that are no frames',
	definition: 'Lines that are no frames: debug prints, or a banner after the start.',
	physics:
		'Each stray line takes line time and makes the frame after it late; a program that reads the glove without care takes it for a frame.',
	causes: [
		'A debug print left in the firmware.',
		'A library that reports to the same port.',
		'A menu or prompt that waits for input.',
		'A warning of the board itself: read it.',
	],
	checks: [
		{measure: 'Read the stray line as shown', expect: 'tells which part of the firmware printed it'},
		{measure: 'Search the firmware for other prints', expect: 'frames only'},
		{measure: 'How often it comes', expect: 'never; with each event: find that event'},
	],
	remedy: [
		'Take the print out, or send it to a second port.',
		'Mark such lines (a leading #) so that readers can skip them.',
	],
	thresholds:
		'A stream of frames has no other lines once it has started: one is enough to say so. Text before the first frame is the boot text and does not count. Common practice, no source.',
	detect,
};

/** Text this close to a restart belongs to it. */
const restartSeconds = 3;

function detect(features: Features): Verdict {
	const {link} = features;
	// A second is given to a restart to show itself by its counter, its clock or more text.
	const own = link.strays.filter(
		({t, notedAt}) =>
			notedAt <= features.now - 1 && !link.restarts.some(restart => Math.abs(restart.t - t) <= restartSeconds),
	);
	const last = own[own.length - 1];
	if (last === undefined || last.notedAt < features.now - 1.5) return undefined;
	return {
		from: own[0].t,
		flaggedAt: last.t,
		to: last.t,
		confidence: 0.9,
		summary: `${own.length} line${own.length === 1 ? '' : 's'} in the stream ${own.length === 1 ? 'is' : 'are'} no frame, the last: ${last.text}`,
		evidence: {lines: own.length, last: last.text},
	};
}
