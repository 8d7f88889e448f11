import {lithiumCaution, servoCaution, shortedPotCaution} from './cautions.ts';
import type {Fault, Sign} from './fault.ts';
import {lasting, unless} from './gates/gate.ts';

/** failure: there is no signal. */
export const portLost: Fault<'port-lost'> = {
	code: 'port-lost',
	status: 'failure',
	scope: 'link',
	listedAfter: 'silent',
	sees: 'the link',
	title: 'the port went away',
	definition: 'The port disappeared while it was open.',
	physics:
		'The host saw the USB device leave: no contact, no power, or a bridge that was reset by a sag. A radio link or network port was closed by the other side.',
	causes: [
		'The plug slipped, or the cable is broken at its end.',
		'Supply sag or short circuit: the host switched the port off.',
		'The glove was switched off, its battery is empty, or the power bank switched off at low load.',
		'USB power saving or a hub.',
		'The radio went out of range.',
	],
	measurements: [
		{measure: 'Wiggle the cable at both ends', expect: 'the lamp stays on; flickers: cable or socket'},
		{measure: 'Another cable', expect: 'stays: the first was broken'},
		{measure: 'Feel pots, regulator and wires', expect: 'cold; hot: a short circuit, unplug at once'},
		{measure: "Volts at the board's 5 V pin with motors running", expect: '4.75–5.25 V'},
		{measure: "The host's kernel or device log", expect: 'says over-current, or disconnect only'},
	],
	remedy: [
		'A new cable, with strain relief at the wrist.',
		'Find the short: unplugged, the pots alone read 1.6–2.4 kΩ from supply to ground (five of 10 kΩ side by side), not under 100 Ω.',
		'Charge; use a power bank with a low-current mode.',
		'Plug straight into the computer.',
	],
	caution: `${shortedPotCaution} ${servoCaution} ${lithiumCaution}`,
	ways: [
		{
			name: 'event',
			limits: {},
			gates: [
				lasting(
					'port',
					'a port or a recording of one, which tells when it goes',
					({link}) => link.timing === 'measured',
				),
				unless('gone', 'a port that has gone', ({link, now}) => {
					if (Number.isNaN(link.portLostAt)) return 'the port is there';
					// It has just come back: told once more, with its end.
					return link.reattachedAt >= link.portLostAt && link.reattachedAt < now - 1 ? 'the port is back' : undefined;
				}),
			],
			sign: ({link}) => ({
				from: link.portLostAt,
				flaggedAt: link.portLostAt,
				...(link.reattachedAt >= link.portLostAt ? {to: link.reattachedAt} : {}),
				summary: 'The port went away.',
				evidence: evidenceOf(link.portLostDetail),
			}),
		},
	],
};

function evidenceOf(detail: string): Sign['evidence'] {
	return detail === '' ? {} : {detail};
}
