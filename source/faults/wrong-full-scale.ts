import type {Features} from '../features/features.ts';
import type {Fault, Verdict} from './fault.ts';
import {before} from './figures.ts';

/** out-of-spec: every percentage is off until the declaration is put right. */
export const wrongFullScale: Fault = {
	code: 'wrong-full-scale',
	status: 'out-of-spec',
	scope: 'link',
	title: 'declared full scale is wrong',
	definition: 'The full scale that was declared is not the one of the board that sends.',
	physics:
		'A 10 bit converter ends at 1023, a 12 bit one at 4095. Readings above the declared end cannot be; readings that all end at a quarter of it come from a converter two bits shorter.',
	causes: [
		'The sheet or --full-scale names another board family.',
		"The firmware sets another resolution than the board's default, or scales its output.",
		'The glove was rebuilt with another board and the sheet was not.',
	],
	checks: [
		{measure: 'Highest raw reading with a pot at its upper end', expect: '1023: 10 bit; 4095: 12 bit; 16383: 14 bit'},
		{measure: 'Board family printed on the module, beside the sheet', expect: 'the same'},
		{measure: 'Read the firmware: resolution and scaling of the readings', expect: 'as declared'},
	],
	remedy: [
		'Put the right full_scale into the sheet, or leave --full-scale out and let it be found out.',
		"Set the converter's resolution in the firmware explicitly.",
	],
	thresholds:
		'A reading above the declaration settles it at once. Pinned at 1023 on several channels, or nothing above 1023 although three fingers have reached 1000: a 12 bit converter would have to stop at exactly a quarter on several fingers. Without a declaration nothing is said. 10 and 12 bit: ATmega328P data sheet, ESP-IDF programming guide.',
	everyTicks: 2,
	detect,
};

/** One or two readings above full scale may be digits run together on the line. */
const leastAbove = 4;

/** What a converter of the next smaller usual width can reach. */
const smallerTop = 1023;

function detect(features: Features): Verdict {
	const {analog, hand, scale} = features;
	const {declared} = scale;
	if (declared === null || scale.foreign) return undefined;
	if (scale.aboveDeclared >= leastAbove) {
		return {
			from: 0,
			confidence: 0.95,
			summary: `Readings go up to ${scale.highest}, but full scale was declared as ${declared}.`,
			evidence: {declared, highest: scale.highest, readingsAbove: scale.aboveDeclared},
		};
	}
	if (declared <= smallerTop || scale.highest > smallerTop) return scale.highest > smallerTop ? 'gone' : undefined;
	const {high} = analog.ends;
	const tall = hand.fingers.filter(a => high[a] >= 1000).length;
	let pinned = 0;
	for (const top of high) if (top === smallerTop) pinned++;
	if (tall < 3 && pinned < 2) return undefined;
	return {
		from: before(features, 5),
		confidence: 0.85,
		summary: `Nothing exceeds ${smallerTop} though ${Math.max(tall, pinned)} channels reach it: these are 10-bit readings, declared as ${declared}.`,
		evidence: {declared, highest: scale.highest, fingersAbove1000: tall, channelsAt1023: pinned},
	};
}
