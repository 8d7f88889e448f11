import type {Features} from '../features/features.ts';
import {cordCaution, overvoltageCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {figure} from './figures.ts';

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
	checks: [
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
	thresholds:
		'Flat at a rail for 10 % of the moving time is more than turning points explain: a sinusoidal movement spends 4.5 % of its time within half a percent of one end of its span. Where most fingers reach both rails the firmware scales its output, and that is healthy. Geometry: cord length = radius × angle; joint ranges 90/100/80° (hand-surgery reference tables) and one radius per joint (Landsmeer 1961).',
	everyTicks: 4,
	detect,
};

/** Share of the moving time at a rail: the definition's 10 % and a fifth more for frames that only touch it. */
const leastShare = 0.13;
const goneShare = 0.06;
const windowSeconds = 30;

/** A rail reached by a braking finger is an end of travel that fits; a reading stopped dead was cut off. */
const leastSharp = 0.5;

/**
 * Both axes at a rail for this long, in two corners or more: a round gate never allows it. A square one does, but there
 * the reading is braked by the gate and reaches its rails only at the very end of the way.
 */
const leastCornerSeconds = 0.15;
const leastCornerShare = 0.3;

function detect(features: Features, a: number): Verdict {
	return features.hand.fingers.includes(a) ? finger(features, a) : stickAxis(features, a);
}

function finger(features: Features, a: number): Verdict {
	const {analog, hand} = features;
	const {ends, scale, trips} = analog;
	const counted = countRails(features, a);
	const rate = features.framesPerSecond ?? 0;
	// Two whole movements of a third of a second each.
	if (counted.hand < Math.max(12, 0.7 * rate)) return undefined;
	const touch = 0.005 * scale.fullScale;
	const high = counted.high >= counted.low;
	const share = (high ? counted.high : counted.low) / counted.hand;
	if (share < goneShare) return 'gone';
	// Where most fingers lie at that rail the firmware puts them there, or the hand is mounted so.
	const alike = hand.fingers.filter(other => {
		const own = countRails(features, other);
		// Or reach that rail at all: then the whole hand is mounted, or its converter ends, close to it.
		const reaches = high ? ends.high[other] >= scale.railHigh - touch : ends.low[other] <= scale.railLow + touch;
		return reaches || (high ? own.high : own.low) >= goneShare * own.hand;
	});
	if (2 * alike.length > hand.fingers.length) return 'gone';
	const band = 0.01 * scale.fullScale;
	// Others must have shown where they end: beside fingers that rest nothing can be compared.
	const movers = hand.fingers.filter(
		other => other !== a && ends.span(other) >= 0.1 * scale.fullScale && trips.turnsSince(other, 0) >= 4,
	);
	if (movers.length < Math.min(2, hand.fingers.length - 1)) return undefined;
	const both = hand.fingers.filter(
		other => ends.low[other] <= scale.railLow + band && ends.high[other] >= scale.railHigh - band,
	);
	// Firmware that stretches every finger to the rails.
	if (2 * both.length > hand.fingers.length) return 'gone';
	const sharp = high ? ends.sharpHigh(a, 2) : ends.sharpLow(a, 2);
	if (share < leastShare || sharp < leastSharp) return undefined;
	return {
		from: Math.max(0, features.now - windowSeconds),
		confidence: Math.min(0.95, 0.6 + share),
		summary: `${features.analogName(a)} lies at the ${high ? 'upper' : 'lower'} rail for ${figure(share * 100)} % of the time the hand moves.`,
		evidence: {
			rail: high ? 'high' : 'low',
			shareOfMovingTimePercent: figure(share * 100),
			stoppedDeadPercent: figure(sharp * 100),
		},
	};
}

/** Frames of the last half minute in which the hand moved, and those of them that a channel spent at a rail. */
function countRails(features: Features, a: number): {hand: number; low: number; high: number} {
	const {blocks} = features.analog;
	const counted = {hand: 0, low: 0, high: 0};
	for (let number = blocks.firstSince(features.now - windowSeconds); number < blocks.count; number++) {
		const at = blocks.at(number, a);
		counted.hand += blocks.handFrames[at];
		counted.low += blocks.railLow[at];
		counted.high += blocks.railHigh[at];
	}
	return counted;
}

function stickAxis(features: Features, a: number): Verdict {
	const {stick} = features;
	if (stick === null || (a !== stick.x && a !== stick.y)) return undefined;
	const axis = a === stick.x ? 0 : 1;
	const out = stick.outFrames[axis];
	if (out < Math.max(20, features.framesPerSecond ?? 0)) return undefined;
	const held = leastCornerSeconds * (features.framesPerSecond ?? 0);
	const corners = stick.cornerFrames.reduce((count, frames) => count + (frames >= held ? 1 : 0), 0);
	// A square gate reaches its corners too, but gets there braked by the thumb and touches the rails only at its very end.
	const {ends} = features.analog;
	const cut = ends.sharpLow(a, 2) >= leastSharp && ends.sharpHigh(a, 2) >= leastSharp;
	const share = stick.cornerFrames.reduce((sum, frames) => sum + frames, 0) / out;
	if (corners < 2 || share < leastCornerShare || !cut) return undefined;
	return {
		from: Math.max(0, features.now - 2),
		confidence: 0.8,
		summary: `${features.analogName(a)} runs into its rails: both axes lie there at once in ${corners} corners.`,
		evidence: {cornersAtBothRails: corners, outerSeconds: figure(out / Math.max(1, features.framesPerSecond ?? 1))},
	};
}
