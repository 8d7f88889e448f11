import type {Features} from '../features/features.ts';
import {overvoltageCaution, rewiringCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {figure} from './figures.ts';
import {fittingRate} from './fitting-rate.ts';

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
	checks: [
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
	thresholds:
		"Text has next to no bytes outside printable ASCII, so 1 % must pass; random bytes have about 60 % outside. 20 % over a second cannot be text with a few broken bytes. Start-up text at another rate followed by clean frames is the boot loader's, and UTF-16 or padding zeros are not noise. Receiver limits +4.58/−4.54 %, recommended ±2 % (ATmega328P data sheet).",
	detect,
};

/** The definition: a fifth of the bytes over a second. */
const leastShare = 0.2;
const goneShare = 0.05;
const windowTicks = 4;

/** Start-up text at another speed is over sooner; at a wrong rate junk comes for ever. */
const leastSpan = 1.25;
const leastBytes = 20;

function detect(features: Features): Verdict {
	const {link} = features;
	const {ticks} = link;
	const bytes = ticks.total(ticks.bytes, windowTicks);
	if (bytes < leastBytes) return undefined;
	const junk = ticks.total(ticks.nonText, windowTicks) / bytes;
	const frames = ticks.total(ticks.frames, windowTicks);
	// Packets of binary numbers are no text either, but they are frames.
	if (frames > 0 && features.layout.framing !== 'text' && features.layout.framing !== 'json') return 'gone';
	if (junk < goneShare && frames > 0) return 'gone';
	// Start-up text at another speed is over within a fraction of a second: the junk itself must span a second.
	const spans = link.lastJunkAt - link.firstJunkAt;
	const likelyText = junk < leastShare && !looksLikeJunk(features, junk);
	if (
		likelyText ||
		frames > 2 ||
		!(
			(spans >= leastSpan && link.lastJunkAt >= features.now - 0.3) ||
			(junk < leastShare && features.now - link.firstByteAt >= 2)
		)
	)
		return undefined;
	const fit = fittingRate(link.sample.subarray(0, Math.min(link.sampled, link.sample.length)), link.baud);
	return {
		from: Number.isNaN(link.firstJunkAt) ? link.firstByteAt : link.firstJunkAt,
		confidence: junk < leastShare ? 0.6 : Math.min(0.95, 0.6 + junk / 2),
		summary: `${figure(junk * 100)} % of the bytes are no text${junk < leastShare ? ' and there is no reading in the rest' : ''}: the line runs at another speed${fit === undefined ? '' : `, most likely ${fit}`}.`,
		evidence: {
			nonTextPercent: figure(junk * 100),
			...(link.baud === null ? {} : {listeningAt: link.baud}),
			...(fit === undefined ? {} : {likelyBaud: fit}),
		},
		...(fit === undefined ? {} : {advice: [`Listen at ${fit}: --baud ${fit} — lines of readings appear at once`]}),
	};
}

/**
 * At twice the listener's rate junk is mostly printable. It is no frame and no prose all the same: some bytes are no text,
 * hardly any is a digit, and no line has ever made a frame.
 */
function looksLikeJunk(features: Features, junk: number): boolean {
	const {link} = features;
	const sample = link.sample.subarray(0, Math.min(link.sampled, link.sample.length));
	if (link.frames > 0 || sample.length < 200 || junk < 0.01) return false;
	let digits = 0;
	let letters = 0;
	for (const byte of sample) {
		if (byte >= 0x30 && byte <= 0x39) digits++;
		else if ((byte | 0x20) >= 0x61 && (byte | 0x20) <= 0x7a) letters++;
	}
	return digits < 0.2 * sample.length && letters < 0.75 * sample.length;
}
