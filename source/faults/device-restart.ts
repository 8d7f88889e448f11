import {lithiumCaution, servoCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {figure} from './figures.ts';
import {unless} from './gates/gate.ts';
import {hasHeard, heard} from './gates/link.ts';

/** out-of-spec: frames before and after are good, but nothing works while it starts, and its cause is still there. */
export const deviceRestart: Fault<'device-restart'> = {
	code: 'device-restart',
	status: 'out-of-spec',
	scope: 'link',
	intermittent: true,
	listedAfter: 'line-saturated',
	sees: 'the link',
	title: 'the board started again',
	definition:
		'The board started again in the middle of the stream: boot text appeared, or its counter or clock fell back to near zero.',
	physics:
		"A supply that sags below the chip's limit resets it, often when a motor starts or the radio sends. Chips that notice say so (`Brownout detector was triggered`); a watchdog restarts firmware that hangs. Opening a port toggles DTR, which resets many boards.",
	causes: [
		"Supply sag, certain where the boot text says brownout: a thin or long USB cable, a weak port or hub, motors or servos on the board's supply, a flat battery.",
		'Another program opened the port: DTR resets the board.',
		'A loose plug or reset wire, or the reset button.',
		'The firmware crashed or hung and its watchdog fired (`Guru Meditation`, `rst:` with a WDT code).',
		'A power bank that switched off at low load and on again.',
	],
	measurements: [
		{measure: "Volts at the board's 5 V pin while motors and radio run", expect: '4.75–5.25 V, never under 4.4 V'},
		{
			measure: 'Boot text before the first frame',
			expect: 'says why: POWERON or BROWN_OUT: supply; WDT or panic: firmware',
		},
		{measure: 'Unplug motors and servos, run again', expect: 'no restart: they need their own supply'},
		{measure: 'Another cable (short, thick) and another port', expect: 'no restart'},
		{measure: 'Battery volts under load, per lithium cell', expect: '3.3–4.2 V; below: charge'},
	],
	remedy: [
		'Short, thick cable; a port of the computer itself instead of a hub.',
		'Own 5–6 V supply for servos, grounds joined.',
		'470–1000 µF across the motor supply, 100 µF at the board.',
		'Mend the crash: read the text in front of the restart.',
	],
	caution: `${servoCaution} ${lithiumCaution}`,
	ways: [
		{
			name: 'event',
			limits: {heard},
			gates: [
				hasHeard,
				unless('again', 'a board that started again', ({link}) =>
					link.restarts.count[0] === 0 ? 'it has not' : undefined,
				),
			],
			sign: ({link}) => {
				const {restarts} = link;
				const number = restarts.count[0] - 1;
				const place = restarts.place(number);
				const from = restarts.from[place];
				const to = restarts.at[place];
				const hasSagged = restarts.anySag;
				return {
					from,
					flaggedAt: to,
					to,
					seenAt: to,
					summary: `The board started again (${restarts
						.signsOf(number)
						.map(sign => wordsOfSign[sign])
						.join(', ')})${hasSagged ? ' after a supply sag it reported itself' : ''}.`,
					evidence: evidenceOf({
						restarts: restarts.count[0],
						sign: restarts.detail(number),
						...(restarts.resumedAt[place] > from ? {gapSeconds: figure(restarts.resumedAt[place] - from)} : {}),
					}),
					...(hasSagged ? {advice: [whereItSags]} : {}),
				};
			},
		},
	],
};

const wordsOfSign = {text: 'start-up text', counter: 'its counter fell back', clock: 'its clock fell back'} as const;

const whereItSags =
	'Supply voltage at the board while everything runs — 4.75–5.25 V at its USB pin, never a dip below 4.4 V';
