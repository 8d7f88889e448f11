import type {Features} from '../features/features.ts';
import {lithiumCaution, overvoltageCaution, rewiringCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {figure} from './figures.ts';
import {atLeast, chances, type Limit, unless} from './gates/gate.ts';
import {isTimed, listen} from './gates/link.ts';

const startSeconds: Limit = {
	raise: 3,
	must: 3,
	mustNot: null,
	unit: 'seconds of listening',
	because: 'boot loaders take 1–2 s after opening (common practice, no source)',
};

const silence: Limit = {
	raise: 5,
	must: 5,
	mustNot: null,
	unit: 'seconds without a byte',
	because: 'a stream may stop for a second or two; where it goes on it is told as a stall',
};

/** failure: there is no signal. */
export const silent: Fault<'silent'> = {
	code: 'silent',
	status: 'failure',
	scope: 'link',
	listedAfter: 'stray-text',
	sees: 'the link',
	title: 'nothing arrives',
	definition: 'Nothing arrives: from the start, or from some moment to the end.',
	physics:
		'The port is there, so the USB bridge has power; what is missing is the board behind it, its firmware, or the wire between. Opening a port toggles DTR and restarts many boards: 1–2 s of quiet after opening are normal.',
	causes: [
		'The wrong port.',
		'The firmware does not run: boot loader waiting, crash, or a strapping pin held by a pot or button (ESP32 GPIO0, 2, 5, 12, 15).',
		'TX and RX exchanged or a missing ground, on a separate USB bridge.',
		'The power bank switched off: below a few dozen mA it does so after 30–60 s; or the battery is empty.',
		'The firmware waits for a command, or sends to another port.',
		'Bluetooth: paired, but another device holds the connection.',
	],
	measurements: [
		{measure: 'Lamps of the board: power, and the one that blinks on sending', expect: 'power on, sender blinking'},
		{measure: 'List the ports with and without the glove plugged in', expect: 'the one that comes and goes is it'},
		{measure: 'Press reset and watch for 3 s', expect: 'boot text or frames'},
		{measure: "Volts at the board's supply pin", expect: '4.75–5.25 V (5 V) or 3.2–3.4 V (3V3)'},
		{measure: "Volts at the board's TX to ground, idle", expect: 'the supply voltage, flickering when it sends'},
		{measure: 'Unplug pots and buttons from strapping pins, reset', expect: 'starts now: move them'},
	],
	remedy: [
		'Choose the other port.',
		'Load the firmware again.',
		'Cross TX and RX, join the grounds.',
		'A power bank with a low-current mode, or a load of 50–100 mA; charge the battery.',
	],
	caution: `${overvoltageCaution} ${rewiringCaution} ${lithiumCaution}`,
	ways: [
		{
			name: 'start',
			limits: {startSeconds},
			gates: [
				isTimed,
				chances('startSeconds', ({now}) => now, listen),
				unless('bytes', 'not one byte', ({link}) => (link.bytes > 0 ? `${link.bytes} bytes` : undefined)),
			],
			sign: ({now}) => ({
				from: 0,
				flaggedAt: startSeconds.raise,
				summary: `Nothing has arrived for ${figure(now)} s since the start.`,
				evidence: evidenceOf({silentSeconds: figure(now)}),
			}),
		},
		{
			name: 'end',
			limits: {silence},
			gates: [
				isTimed,
				unless('bytes', 'bytes before', ({link}) => (link.bytes === 0 ? 'none' : undefined)),
				atLeast('silence', features => features.now - quietSince(features)),
			],
			sign: features => {
				const from = quietSince(features);
				const seconds = figure(features.now - from);
				return {
					from,
					flaggedAt: from + silence.raise,
					summary: `Nothing has arrived for ${seconds} s.`,
					evidence: evidenceOf({silentSeconds: seconds, bytesBefore: features.link.bytes}),
				};
			},
		},
	],
};

/** Since when nothing has come: a port that is back may send nothing either, and what a log leaves out did come. */
function quietSince({link, now}: Features): number {
	if (link.isLeftOut) return now;
	return Number.isNaN(link.reattachedAt) ? link.lastByteAt : Math.max(link.reattachedAt, link.lastByteAt);
}
