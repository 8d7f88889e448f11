import {mainsCaution, rewiringCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** out-of-spec: the finger is still visible, under a disturbance. */
export const mainsHum: Fault = {
	code: 'mains-hum',
	status: 'out-of-spec',
	scope: 'analog',
	title: 'mains pickup',
	definition: 'A 50 or 60 Hz line, or what remains of it at this frame rate, on a channel that follows its finger.',
	physics:
		'Mains fields couple into long, weakly driven leads. Sampled at f_s, a line at f shows up at |f − f_s·round(f/f_s)|: 50 Hz appears at 10 Hz in 60 frames/s and at 0 Hz, as a plain offset, in 50 frames/s. The alias is as large as the hum.',
	causes: [
		'The ground of the pots is poor, so the wiper is driven weakly and the leads act as an antenna.',
		'A laptop on its charger without earth: its leakage rides on the USB ground and the wearer couples it in.',
		'Sensor wires along a mains lead, a transformer or a lamp.',
		'A pot of 100 kΩ or more.',
	],
	measurements: [
		{measure: 'Run the computer from its battery, charger pulled out', expect: 'hum gone: it comes in by the charger'},
		{measure: "Unplugged: resistance from the pot's ground lug to the board's ground", expect: 'under 1 Ω'},
		{measure: 'Move the glove a metre away from mains leads and lamps', expect: 'less: pickup by field'},
		{measure: 'Unplugged: resistance between the outer lugs', expect: '8–12 kΩ (10 kΩ ±20 %)'},
		{
			measure: 'Meter on AC volts from the input pin to ground, pot at mid-travel',
			expect: 'a few mV; 53 mV rms is 1.5 % of 5 V peak',
		},
	],
	remedy: [
		'Mend the ground; run it beside each sensor wire, twisted.',
		'Use an earthed or another charger, or a battery.',
		'Solder 100 nF from the input to ground at the board.',
		'Average over whole mains periods (20 ms at 50 Hz, 16.7 ms at 60 Hz).',
	],
	caution: `${mainsCaution} ${rewiringCaution}`,
	ways: [],
};
