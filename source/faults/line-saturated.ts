import type {Features} from '../features/features.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {figure, inPercent} from './figures.ts';
import {atLeast, atMost, lasting} from './gates/gate.ts';
import {isTimed, seconds} from './gates/link.ts';

/** out-of-spec: frames are late and the next longer line breaks it. */
export const lineSaturated: Fault<'line-saturated'> = {
	code: 'line-saturated',
	status: 'out-of-spec',
	scope: 'link',
	listedAfter: 'lost-frames',
	sees: 'the link',
	title: 'serial line is full',
	definition: 'The serial line carries nearly all it can.',
	physics:
		'Eight data bits cost ten bit times: 115200 baud carry 11 520 bytes/s. A full line makes the send buffer grow: every frame waits, and then frames or bytes are lost.',
	causes: [
		'Lines too long or too frequent for the baud rate.',
		'The loop sends without a timer, as fast as the line lets it.',
		'Debug prints between the frames.',
	],
	measurements: [
		{measure: 'Bytes per line × frames per second, beside baud / 10', expect: 'below 70 %'},
		{measure: 'Read the firmware: is sending timed?', expect: 'yes, for example every 16 ms'},
		{measure: 'Stray lines', expect: 'none'},
	],
	remedy: [
		'Raise the baud rate at both ends (250000 and 500000 are exact from 16 MHz).',
		'Send on a timer; fewer digits, no labels.',
		'Take debug prints out.',
	],
	ways: [
		{
			name: 'load',
			limits: {
				watched: {
					raise: 5,
					must: null,
					mustNot: null,
					unit: 'seconds of frames',
					because:
						'what a host held back when the port was opened is over, and a buffer of 4 kB delivered at once no more than doubles the load',
				},
				load: {
					raise: 90,
					clear: 75,
					must: 92,
					mustNot: 75,
					unit: '% of what the line can carry, over 5 s',
					because:
						'8N1 takes ten bit times a byte; above 90 % no room is left for one late frame (common practice, no source). A little below the definition, since clocks of both ends may differ by 2 % (ATmega328P data sheet)',
				},
				least: {
					raise: 70,
					clear: 50,
					must: null,
					mustNot: null,
					unit: '% of what the line can carry, in the emptiest of these seconds',
					because: 'a line that was idle for a third of a second is not full: what was held back came at once',
				},
				possible: {
					raise: 110,
					must: null,
					mustNot: null,
					unit: '% of what the line can carry, over 5 s',
					because: 'more than a line can carry came over none: USB and radio boards take any baud rate and ignore it',
				},
			},
			gates: [
				lasting('baud', 'a serial line of known speed', ({link}) => link.baud !== null),
				isTimed,
				seconds('watched'),
				atLeast('load', load),
				atLeast('least', ({link}) => inPercent(link.load.least)),
				atMost('possible', load),
			],
			sign: features => {
				const {link} = features;
				const percent = figure(load(features));
				return {
					from: link.load.from,
					summary: `${Math.round(link.load.bytesPerSecond)} bytes a second fill ${percent} % of a line at ${link.baud} baud.`,
					evidence: evidenceOf({
						loadPercent: percent,
						bytesPerSecond: Math.round(link.load.bytesPerSecond),
						capacity: Math.round(link.load.capacity),
					}),
				};
			},
		},
	],
};

function load({link}: Features): number {
	return inPercent(link.load.share);
}
