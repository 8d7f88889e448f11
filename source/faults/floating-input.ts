import {rewiringCaution} from './cautions.ts';
import type {Fault} from './fault.ts';
import {ghost} from './floating-input/ghost.ts';
import {isCalm} from './floating-input/is-calm.ts';
import {noise} from './floating-input/noise.ts';
import {pickup} from './floating-input/pickup.ts';
import {sinking} from './floating-input/sinking.ts';
import {wander} from './floating-input/wander.ts';
import {notLearning} from './gates/fingers.ts';

/** failure: the reading no longer belongs to the finger. */
export const floatingInput: Fault<'floating-input'> = {
	code: 'floating-input',
	status: 'failure',
	scope: 'analog',
	listedAfter: null,
	sees: 'noisy, or moves by itself',
	title: 'wiper wire open',
	definition: 'The input is driven by nothing: it wanders, picks up mains, or repeats the channel read just before it.',
	physics:
		'A converter input is a small capacitor (14 pF on the ATmega328P) behind a switch. With no source to charge it, it keeps what the channel before it left there, leaks, and couples to mains fields and to a nearby hand. Several open pins in a row all show the same ghost.',
	causes: [
		'The wiper (middle) wire is broken, not soldered, or pulled out of its connector.',
		'The wire sits one pin off, so the firmware reads an empty pin.',
		'The firmware lists a pin that is not wired on this build.',
		'A wire is broken inside its insulation where it bends over the knuckle: it comes and goes with the hand.',
		'The wiper no longer touches the track: a cracked or worn-out pot.',
	],
	measurements: [
		{
			measure: 'Volts from the input pin to ground while the finger moves',
			expect: 'follow the finger; an open wire drifts',
		},
		{
			measure: 'Volts at the middle lug of the pot while the finger moves',
			expect: 'the same as at the pin; if only the lug follows, the wire between is open',
		},
		{
			measure: 'Unplugged: resistance from the input pin to the middle lug, wiggling the wire',
			expect: 'under 1 Ω and steady',
		},
		{
			measure: 'Unplugged: resistance from the middle lug to each outer lug while turning',
			expect: 'one rises as the other falls, together 8–12 kΩ (10 kΩ ±20 %)',
		},
		{
			measure: 'Touch the insulation of the wiper wire near the board',
			expect: 'the reading stays; an open input jumps',
		},
	],
	remedy: [
		'Re-solder or re-crimp the wiper wire, with slack and strain relief where the hand bends.',
		'Correct the pin in the firmware or move the wire.',
		'Replace a pot whose wiper has no contact.',
		'Tie unused analog inputs to ground, or leave them out of the frame.',
	],
	caution: rewiringCaution,
	isCalm,
	isKnown: ({open}, a) => open[a] === 1,
	// Numbers that firmware still stretches by what it learns jump as an open pin's do.
	ways: [noise, pickup, ghost, sinking, wander].map(way => ({...way, gates: [notLearning, ...way.gates]})),
};
