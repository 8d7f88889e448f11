import type {Features} from '../features/features.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {unless} from './gates/gate.ts';
import {hasHeard, heard} from './gates/link.ts';

/** function-check: the frames are good; someone left a print in. */
export const strayText: Fault<'stray-text'> = {
	code: 'stray-text',
	status: 'function-check',
	scope: 'link',
	intermittent: true,
	listedAfter: 'device-restart',
	sees: 'the link',
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
	measurements: [
		{measure: 'Read the stray line as shown', expect: 'tells which part of the firmware printed it'},
		{measure: 'Search the firmware for other prints', expect: 'frames only'},
		{measure: 'How often it comes', expect: 'never; with each event: find that event'},
	],
	remedy: [
		'Take the print out, or send it to a second port.',
		'Mark such lines (a leading #) so that readers can skip them.',
	],
	ways: [
		{
			name: 'lines',
			limits: {heard},
			gates: [
				hasHeard,
				unless('stray', 'a line that is no frame', ({link}) => (strays(link) === 0 ? 'there is none' : undefined)),
			],
			sign: ({link}) => {
				const count = strays(link);
				const last = link.strays.text(count - 1);
				const t = link.strays.time(count - 1);
				return {
					from: t,
					flaggedAt: t,
					to: t,
					seenAt: t,
					summary: `${count} line${count === 1 ? '' : 's'} in the stream ${count === 1 ? 'is' : 'are'} no frame, the last: ${last}`,
					evidence: evidenceOf({lines: count, last}),
				};
			},
		},
	],
};

/** Lines so far that have waited long enough for a restart to show itself. */
function strays(link: Features['link']): number {
	return link.settledStrays;
}
