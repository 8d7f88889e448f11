import {cordCaution, overvoltageCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** out-of-spec: part of the travel is lost, the rest is right. */
export const clippedRange: Fault = {
	code: 'clipped-range',
	status: 'out-of-spec',
	scope: 'analog',
	title: 'runs into the end of the range',
	definition: 'A finger channel lies flat at a rail before its travel ends, where most others do not.',
	physics:
		'Cord travel is radius times angle: 42 mm of pull on a 16 mm spool wants 301°, and a panel pot has 270° of track. Past the end the reading stays while the finger still moves.',
	causes: [
		'The spool was fitted at the wrong angle: open hand or fist lies beyond the end of the track.',
		"The spool is too small for this finger's cord travel.",
		'The pot is fed from more than the converter can take, or the converter range is set too low (ESP32 is straight only from about 0.15 to 2.45 V at 11 dB).',
		'The firmware scales this finger with limits learned too early or from another hand.',
	],
	measurements: [
		{
			measure: 'Bend fully and open slowly: where does the reading stop moving?',
			expect: 'nowhere before the finger does',
		},
		{
			measure: 'Volts at the input pin where it lies flat',
			expect: 'off both ends by 0.1 V or more; at the end: track used up',
		},
		{
			measure: 'Cord travel from open hand to fist, with a ruler',
			expect: 'below 30 mm on a 16 mm spool (80 % of 270°)',
		},
		{
			measure: 'Raw reading beside the scaled one, if the firmware scales',
			expect: 'the raw reading still moves: limits wrong',
		},
		{measure: 'Volts at the supply lug on a 3.3 V board', expect: '3.2–3.4 V'},
	],
	remedy: [
		'Loosen the spool, set open hand to about 10 % of the track, fix it again.',
		'Fit a larger spool: diameter = travel / (0.8 × π × track angle / 360°).',
		"Feed the pot from the converter's reference; set the right attenuation.",
		'Teach the firmware its limits again with the glove on.',
	],
	caution: `${cordCaution} ${overvoltageCaution}`,
	ways: [],
};
