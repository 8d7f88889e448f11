import {overvoltageCaution, rewiringCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** failure: nothing can be read. */
export const wrongBaud: Fault = {
	code: 'wrong-baud',
	status: 'failure',
	scope: 'link',
	title: 'the bytes are not text',
	definition: 'What arrives is not text: the two ends run at different rates, or something else is sending.',
	physics:
		'A receiver samples each bit at its own pace. Off by more than about 4.5 % over ten bits it takes bits for their neighbours, and bytes above 0x7F, zeros and framing garbage come out, with no line ends.',
	causes: [
		'--baud differs from the rate set in the firmware.',
		'The board runs from another clock than the firmware was built for (8 instead of 16 MHz: half the rate; an internal oscillator: some percent off).',
		'The device sends a binary format, or it is another device.',
		'The signal is inverted (RS-232 levels on a plain serial pin), or a ground wire is missing.',
	],
	measurements: [
		{measure: 'Serial.begin(…) in the firmware beside --baud', expect: 'the same number; usual are 115200 and 9600'},
		{measure: 'Try half and double the rate', expect: 'text at one of them: the clock is not what the firmware thinks'},
		{
			measure: "Volts at the board's TX to ground, line idle",
			expect: 'the supply, 5 V or 3.3 V; 0 V or negative: inverted',
		},
		{measure: 'Unplugged: resistance between the two grounds', expect: 'under 1 Ω'},
	],
	remedy: [
		'Give the right --baud, or correct the firmware.',
		'Build the firmware for the clock on the board.',
		'Prefer 250000 or 500000 on a 16 MHz board: both are exact; 115200 is off by 2.1–3.5 %.',
	],
	caution: `${overvoltageCaution} ${rewiringCaution}`,
	ways: [],
};
