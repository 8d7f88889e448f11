import {rewiringCaution} from './cautions.ts';
import type {Fault} from './fault.ts';

/** out-of-spec: most frames are right, but none can be relied on; a contact that opens is mended, not waited for. */
export const dropout: Fault = {
	code: 'dropout',
	status: 'out-of-spec',
	scope: 'analog',
	title: 'intermittent contact',
	definition: 'Short jumps of the reading that come back: a contact opens for some milliseconds.',
	physics:
		'A loose joint or a wiper that lifts off a worn spot leaves the input open for a moment, or cuts off one end of the track, which sends it to a rail. Jumps at one angle point at the track, jumps with the movement of the cable at a joint.',
	causes: [
		'A cold or cracked solder joint at the pot, or a wire held by its last strand.',
		'A loose connector or breadboard contact.',
		'A wire breaking inside its insulation where the hand bends.',
		'A worn track: jumps always at the same angle. Panel pots are made for 10 000–50 000 turns; at one curl a second 10 000 are 2.8 hours.',
		'A trimmer used as a sensor (made for about 200 turns).',
	],
	measurements: [
		{
			measure: 'Wiggle each wire and connector of this pot in turn',
			expect: 'the reading stays steady; jumps: that place',
		},
		{
			measure: 'Turn the shaft slowly through its whole travel, wires held still',
			expect: 'no jumps; a jump at the same angle each time: worn track',
		},
		{
			measure: 'Unplugged: resistance from the middle lug to one outer lug while turning slowly',
			expect: 'changes smoothly, no open circuit',
		},
		{measure: 'Unplugged: resistance of each wire end to end while bending it', expect: 'under 1 Ω throughout'},
	],
	remedy: [
		'Re-solder the joint; give every wire slack and strain relief.',
		'Replace the breadboard jumper by a soldered or crimped joint.',
		'Replace a worn pot by one rated for many turns.',
	],
	caution: rewiringCaution,
	ways: [],
};
