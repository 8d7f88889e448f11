import type {Features} from '../features/features.ts';
import {lithiumCaution, servoCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {figure} from './figures.ts';

/** out-of-spec: frames before and after are good, but nothing works while it starts, and its cause is still there. */
export const deviceRestart: Fault = {
	code: 'device-restart',
	status: 'out-of-spec',
	scope: 'link',
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
	checks: [
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
	thresholds:
		"Boot text, or a counter or clock that falls back to near zero, each say it alone; the first boot before the first frame is normal. USB gives 4.75–5.25 V at the port and devices must work to 4.40 V (USB 2.0, 7.2.1); a small servo takes 0.6–1.2 A when stalled (servo guides), a USB 2.0 port gives 0.5 A; ESP32 boards want a supply of 0.5 A (maker's design guidelines, from memory).",
	detect,
};

const wordsOfSign = {text: 'start-up text', counter: 'its counter fell back', clock: 'its clock fell back'} as const;

function detect(features: Features): Verdict {
	const {link} = features;
	const last = link.restarts[link.restarts.length - 1];
	if (last === undefined || last.notedAt < features.now - 0.5) return undefined;
	const sag = link.restarts.find(({detail}) => /brown.?out|supply|voltage|sag/i.test(detail));
	const pause = link.pauses.findLast(({from, to}) => from <= last.t && to >= last.t - 3);
	return {
		from: Math.min(last.t, pause?.from ?? last.t),
		flaggedAt: last.t,
		to: last.t,
		confidence: link.restarts.some(({sign}) => sign !== 'text') ? 0.95 : 0.85,
		summary: `The board started again (${wordsOfSign[last.sign]})${sag === undefined ? '' : ' after a supply sag it reported itself'}.`,
		evidence: {
			restarts: countRestarts(link.restarts.map(({t}) => t)),
			sign: last.detail,
			...(pause === undefined ? {} : {gapSeconds: figure(pause.to - pause.from)}),
		},
		...(sag === undefined
			? {}
			: {
					advice: [
						'Supply voltage at the board while everything runs — 4.75–5.25 V at its USB pin, never a dip below 4.4 V',
					],
				}),
	};
}

/** Signs within three seconds of each other belong to one restart. */
function countRestarts(times: readonly number[]): number {
	let count = 0;
	let last = Number.NEGATIVE_INFINITY;
	for (const t of times) {
		if (t - last > 3) count++;
		last = t;
	}
	return count;
}
