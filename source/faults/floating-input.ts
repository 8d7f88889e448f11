import type {Features} from '../features/features.ts';
import {rewiringCaution} from './cautions.ts';
import {countTurns} from './count-turns.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure, percentFs} from './figures.ts';
import {fitCopy} from './fit-copy.ts';
import {calmestRoughness, followsFinger, isWorked, othersRest, restWatch, typicalNoise} from './rest-watch.ts';

/** failure: the reading no longer belongs to the finger. */
export const floatingInput: Fault = {
	code: 'floating-input',
	status: 'failure',
	scope: 'analog',
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
	checks: [
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
	thresholds:
		'A sound 10 kΩ pot at rest shows 1–3 counts of noise at 10 bit, at most 0.3 % of full scale (common practice); quantisation alone is 0.29 counts rms (Bennett 1948). 2 % rms, or 3 % peak of mains without any travel, is seven and ten times that. A ghost is told by its exactness: charge left on the sampling capacitor (14 pF, ATmega169P data sheet, same converter) comes back scaled by 0.3–0.98 with a residual of 0.4 % of full scale or less, over three movements of 20 %; a neighbouring finger that moves along by anatomy never copies that closely.',
	detect,
	isOver: recovered,
};

/** rms from which a channel that does not follow its finger is open: the definition's 2 % less a sixth for the estimate's scatter. */
const leastRms = 0.017;

/** A line is all there is from this share of the power on; a finger that moves leaves less. */
const leastLineShare = 0.85;

/** A finger that can be believed to work: well below what an open pin shows. */
const calmNoise = 0.006;

/** Peak of mains pickup, likewise from the definition's 3 %. */
const leastPickup = 0.025;

/** Gain up to which a neighbour's natural following can pass for a copy. */
const followedGain = 0.62;

/** A copy comes with the very same scan: fingers differ by tens of milliseconds, and this is what a slow stream can tell. */
const mostLagSeconds = 0.003;

/** What a copy may leave, share of full scale: the definition's 0.4 %, less what two fingers in close company come down to. */
const copyResidual = 0.0036;

/** Up to a count of 10 bit nothing is asked of what a copy leaves; beyond, that at least half of it is white. */
const plainResidual = 0.0012;
const leastWhiteness = 0.5;

/** The quick look knows no lag: the most a copy may leave, and the 0.4 % rms that three milliseconds make of a quick movement. */
const glanceResidual = 0.01;

/** A copy's gain: below, it is crosstalk; above, a duplicate (definition). */
const lowestGain = 0.3;
const highestGain = 0.985;

function detect(features: Features, a: number): Verdict {
	const rate = features.framesPerSecond;
	// Below a dozen frames a second a quarter of a second says nothing about noise.
	if (rate === undefined || rate < 12) return undefined;
	return (
		copies(features, a) ??
		driftsAlong(features, a) ??
		restless(features, a) ??
		nothingElse(features, a) ??
		ignoresHand(features, a)
	);
}

/** An exact, weaker copy of the channel scanned just before it: the sampling capacitor keeps that channel's charge. */
function copies(features: Features, a: number): Verdict {
	const {analog, hand} = features;
	if (a === 0) return undefined;
	const source = a - 1;
	const full = analog.scale.fullScale;
	// A stick pushed the same way thrice moves both axes alike; a finger and its neighbour do not.
	const turns = hand.fingers.includes(a) ? 3 : 8;
	const since = analog.trips.sinceTurns(source, turns);
	// Looked at once per turn of the source: nothing new is learnt in between, and the fit is not free.
	const {trips} = analog;
	const lastTurn = trips.count[source] === 0 ? 0 : trips.notedAt[trips.at(source, trips.count[source] - 1)];
	if (lastTurn <= features.now - 0.25) return undefined;
	if (since === undefined || since < features.now - 15 || hand.recent.range(source) < 0.1 * full) return undefined;
	// A quick look over the last seconds before the close one.
	const glance = hand.recent.copy(source, a);
	if (glance.gain < 0.8 * lowestGain || glance.residual > glanceResidual * full) return undefined;
	const from = Math.max(0, since - 0.5);
	// A neighbour that follows a bent finger does so by up to 40 % of its own travel, which may be half as long again: below
	// that gain the whole hand must have worked, or the copying gone on for long.
	if (
		glance.gain < followedGain &&
		!anotherMoves(features, a, source, from) &&
		analog.trips.turnsSince(source, before(features, 30)) < 10
	)
		return undefined;
	if (analog.trips.longestSince(source, since) < 0.2 * full) return undefined;
	const copy = fitCopy(features.history, analog.columns[source], analog.columns[a], from);
	if (copy === undefined || copy.gain < lowestGain || copy.gain > highestGain) return undefined;
	if (Math.abs(copy.lagSeconds) > mostLagSeconds) return undefined;
	const limit = Math.max(copyResidual * full, Math.min(0.008 * full, 1.5 * (analog.restNoise(a) ?? 0)));
	// What is left must not grow with speed: that would be a finger of its own that keeps close company.
	if (copy.residual > limit || copy.residualMoving > 1.6 * Math.max(copy.residual, 0.0012 * full)) return undefined;
	// It has gone farther than the copy could take it: pushed, not open.
	if (!hand.fingers.includes(a) && analog.ends.span(a) >= analog.ends.span(source) * copy.gain * 1.3 + 0.15 * full)
		return 'never';
	// More than a count or so must be noise: a finger in close company leaves something smooth.
	if (copy.residual > plainResidual * full && copy.whiteness < leastWhiteness) return undefined;
	return {
		from,
		confidence: 0.9,
		summary: `${features.analogName(a)} repeats ${features.analogName(source)} at ${figure(copy.gain * 100)} % to within ${percentFs(features, copy.residual)} % FS and never moves by itself.`,
		evidence: {
			copyOf: features.analogName(source),
			gain: figure(copy.gain),
			residualPercentFs: percentFs(features, copy.residual),
			lagMs: figure(1000 * copy.lagSeconds),
		},
	};
}

/** Whether any other finger has gone at least a fifth of full scale of its own since `from`. */
function anotherMoves(features: Features, a: number, source: number, from: number): boolean {
	const {analog, hand} = features;
	return hand.fingers.some(other =>
		other < source - 1 || other > a + 1
			? analog.trips.longestSince(other, from) >= 0.2 * analog.scale.fullScale
			: false,
	);
}

/**
 * Nothing connected at all: the pins drift together at nearly one level. Neighbours within 3 % of full scale that
 * wander in step (correlation 0.9), without any of them ever having travelled.
 */
function driftsAlong(features: Features, a: number): Verdict {
	const {analog, hand} = features;
	const {fingers, window} = hand;
	if (hand.everTravelled || fingers.length < 3 || !fingers.includes(a)) return undefined;
	// Against the smallest scale the readings allow: 8-bit travel is small change of ten bits.
	const full = analog.scale.smallest;
	// A hand that begins to move starts in step, too: eight seconds without a movement, and calm again at their end.
	const {blocks} = analog;
	if (!(features.now - features.link.firstFrameAt >= 8) || blocks.settled[blocks.at(blocks.count - 1, a)] === 0)
		return undefined;
	let together = 0;
	for (const other of fingers) {
		if (window.travel(other) > 0.18 * full) return undefined;
		if (window.deviation(other) < 0.006 * full) continue;
		if (
			other !== a &&
			window.correlation(a, other) >= 0.9 &&
			Math.abs(window.mean[other] - window.mean[a]) <= 0.06 * full
		)
			together++;
	}
	const neighbour = fingers.includes(a - 1) ? a - 1 : a + 1;
	// In step to within a count or two, and about as far: one charge handed on from pin to pin.
	const {gain, residual} = window.copy(neighbour, a);
	if (gain < 0.6 || gain > 1.6 || residual > 0.0025 * full) return undefined;
	if (together < fingers.length - 1 || Math.abs(window.mean[neighbour] - window.mean[a]) > 0.03 * full)
		return undefined;
	// Most of the drift must be older than a movement that is just beginning.
	if (travelUntil(features, a, 3) < 0.5 * window.travel(a)) return undefined;
	return {
		from: before(features, 10),
		confidence: 0.7,
		summary: `${features.analogName(a)} drifts in step with all other fingers at nearly the same level; none has ever travelled.`,
		evidence: {
			levelPercentFs: percentFs(features, window.mean[a]),
			driftPercentFs: percentFs(features, window.travel(a)),
		},
	};
}

/** Range of a channel's block means from ten seconds ago until `ago` seconds ago, counts. */
function travelUntil(features: Features, a: number, ago: number): number {
	const {blocks} = features.analog;
	let low = Number.POSITIVE_INFINITY;
	let high = Number.NEGATIVE_INFINITY;
	for (let number = blocks.firstSince(features.now - 10); number < blocks.count; number++) {
		if (blocks.end[blocks.slot(number)] > features.now - ago) break;
		low = Math.min(low, blocks.mean[blocks.at(number, a)]);
		high = Math.max(high, blocks.mean[blocks.at(number, a)]);
	}
	return Math.max(0, high - low);
}

/** Noise, pickup or wander while the others rest, on a channel that was never seen to follow its finger like this. */
function restless(features: Features, a: number): Verdict {
	const {analog, hand, hum} = features;
	const full = analog.scale.fullScale;
	const {blocks, roughSince} = analog;
	const line = hum.found[a];
	if (!othersRest(features, a)) return undefined;
	if (line === undefined && blocks.noise[blocks.at(blocks.count - 1, a)] < 0.004 * full) return wanders(features, a);
	// A stick may be played while the fingers rest, and slow streams can't tell quick movements from noise: a longer look.
	const patient = !hand.fingers.includes(a) || (features.framesPerSecond ?? 0) < 60;
	const rest = patient ? restWatch(features, a, 10, 24) : restWatch(features, a, 4, 8);
	if (rest === undefined) return undefined;
	const {rms} = rest;
	// Between two coarse levels a good reading toggles as well.
	if (rms < analog.steps.step(a)) return undefined;
	if (patient && rms > 0.12 * full) return undefined;
	const pickup = line !== undefined && line.streak >= 2 && line.share >= 0.5 && line.amplitude >= leastPickup * full;
	const noisy =
		rest.roughShare >= beyondTaps(features) &&
		rest.quietest >= 0.004 * full &&
		rest.noise >= 0.006 * full &&
		rest.roughShare >= 0.2 &&
		rms >= leastRms * full;
	if (!pickup && !(noisy && isNoisyThroughout(features, a))) return wanders(features, a);
	const begun = Number.isNaN(roughSince[a]) ? rest.since : roughSince[a];
	if (followsFinger(features, a, begun)) return 'never';
	return {
		from: begun,
		confidence: pickup ? 0.8 : 0.7,
		summary: pickup
			? `${features.analogName(a)} carries ${line.mains === 0 ? '50 or 60' : line.mains} Hz pickup of ${percentFs(features, line.amplitude)} % FS peak and no travel of its own.`
			: `${features.analogName(a)} wanders by ${percentFs(features, rms)} % FS rms while the hand rests.`,
		evidence: {
			rmsPercentFs: percentFs(features, rms),
			...(pickup ? {pickupPercentFs: percentFs(features, line.amplitude), mainsHertz: line.mains || '50 or 60'} : {}),
		},
	};
}

/**
 * Roughness as a share of rms that a finger's tapping cannot reach: a sinusoid of f Hz has 4·sin²(πf/rate)/√6 (the second
 * difference of white noise being √6 of its rms), taken half as large again for f = 7, the quickest tapping there is.
 */
function beyondTaps(features: Features): number {
	const rate = features.framesPerSecond ?? 0;
	const tap = rate > 14 ? (4 * Math.sin((Math.PI * 7) / rate) ** 2) / Math.sqrt(6) : 1;
	return Math.min(0.9, 1.5 * tap);
}

/**
 * Nothing but noise or pickup for three seconds while another finger works: says so where the hand never rests (a glove
 * under assembly has one reel that is tried out). Second differences hardly see a movement at 60 frames/s and more.
 */
function nothingElse(features: Features, a: number): Verdict {
	const {analog, hand, hum} = features;
	const {trips, roughSince} = analog;
	const full = analog.scale.fullScale;
	if ((features.framesPerSecond ?? 0) < 60 || !hand.fingers.includes(a) || Number.isNaN(roughSince[a]))
		return undefined;
	if (features.now - roughSince[a] < 3) return undefined;
	const since = Math.max(roughSince[a], before(features, 8));
	const worked = hand.fingers.some(
		b =>
			b !== a && trips.turnsSince(b, since) >= 2 && trips.longestSince(b, since) >= 0.2 * full && isCalm(features, b),
	);
	if (!worked) return undefined;
	const noise = calmestRoughness(features, a);
	const line = hum.found[a];
	const pickup =
		line !== undefined && line.streak >= 4 && line.share >= leastLineShare && line.amplitude >= leastPickup * full;
	if (!pickup && noise < leastRms * full) return undefined;
	if (followsFinger(features, a, roughSince[a])) return undefined;
	return {
		from: roughSince[a],
		confidence: 0.7,
		summary: pickup
			? `${features.analogName(a)} carries ${line.mains === 0 ? '50 or 60' : line.mains} Hz pickup of ${percentFs(features, line.amplitude)} % FS peak and nothing else.`
			: `${features.analogName(a)} shows nothing but noise of ${percentFs(features, noise)} % FS rms while another finger works.`,
		evidence: pickup
			? {pickupPercentFs: percentFs(features, line.amplitude), mainsHertz: line.mains || '50 or 60'}
			: {rmsPercentFs: percentFs(features, noise)},
	};
}

function isCalm(features: Features, b: number): boolean {
	return calmestRoughness(features, b) < calmNoise * features.scale.fullScale;
}

/** Whether the typical step is noisy too: single jumps that come back are a contact's, and the rest is calm. */
function isNoisyThroughout(features: Features, a: number): boolean {
	return typicalNoise(features, a, 1) >= 0.002 * features.scale.fullScale;
}

/** Slow wander without a single pause over twelve seconds, small against any movement: no finger does that. */
function wanders(features: Features, a: number): Verdict {
	const {analog} = features;
	const full = analog.scale.fullScale;
	const {blocks} = analog;
	if (analog.restless[a] < 0.6 || blocks.settled[blocks.at(blocks.count - 1, a)] === 1) return undefined;
	const rest = restWatch(features, a, 12, 36);
	if (rest === undefined || rest.settled > 0.08) return undefined;
	const {window} = features.hand;
	const rms = window.deviation(a);
	if (rms < leastRms * full || rms > 0.06 * full || window.range(a) > 0.3 * full || rest.noise > 0.4 * rms)
		return undefined;
	// A posture sinks one way; a pin wanders to and fro.
	if (turnsOfMeans(features, a, 12, rms) < 5) return undefined;
	if (followsFinger(features, a, rest.since)) return undefined;
	// A finger that is worked alone takes its neighbours along a little, again and again.
	if (analog.columns.some((_, b) => b !== a && isWorked(features, b, rest.since))) return undefined;
	return {
		from: rest.since,
		confidence: 0.55,
		summary: `${features.analogName(a)} creeps about by ${percentFs(features, rms)} % FS rms without a pause while the hand rests.`,
		evidence: {rmsPercentFs: percentFs(features, rms), settledSharePercent: figure(rest.settled * 100)},
	};
}

/** Turns of the block means by more than `least` counts within the last `seconds`. */
function turnsOfMeans(features: Features, a: number, seconds: number, least: number): number {
	const {blocks} = features.analog;
	const means: number[] = [];
	for (let number = blocks.firstSince(features.now - seconds); number < blocks.count; number++)
		means.push(blocks.mean[blocks.at(number, a)]);
	return countTurns(means, least);
}

/** The others work, the channel is never quiet and goes its own way. */
function ignoresHand(features: Features, a: number): Verdict {
	const {analog, hand} = features;
	const {blocks, trips} = analog;
	const full = analog.scale.fullScale;
	if (!hand.fingers.includes(a) || Math.abs(hand.agreement[a]) > 0.4) return undefined;
	const since = before(features, 6);
	let workers = 0;
	for (const other of hand.fingers) {
		if (
			other !== a &&
			analog.restless[other] < 0.97 &&
			trips.turnsSince(other, since) >= 3 &&
			hand.followedAt[other] >= since
		)
			workers++;
	}
	if (workers < 2) return undefined;
	const rms = hand.recent.deviation(a);
	if (rms < leastRms * full) return undefined;
	// Its quietest block tells noise from movement: a finger that plays its own part is smooth, and rests in between.
	const slow = (features.framesPerSecond ?? 0) < 60;
	let quietest = Number.POSITIVE_INFINITY;
	let roughness = 0;
	let noise = 0;
	let seen = 0;
	for (let number = blocks.firstSince(features.now - (slow ? 8 : 4)); number < blocks.count; number++) {
		const at = blocks.at(number, a);
		quietest = Math.min(quietest, slow ? blocks.noise[at] : blocks.rough[at]);
		roughness += blocks.rough[at];
		noise += blocks.noise[at];
		seen++;
	}
	if (seen < (slow ? 12 : 8) || quietest < 0.004 * full) return undefined;
	// Tapping without a pause is rough as well where the frames are few.
	if (!slow && roughness < beyondTaps(features) * noise) return undefined;
	return {
		from: before(features, 6),
		confidence: 0.8,
		summary: `${features.analogName(a)} wanders by ${percentFs(features, rms)} % FS rms and takes no part in the hand's movements.`,
		evidence: {rmsPercentFs: percentFs(features, rms), correlationWithHand: figure(hand.agreement[a])},
	};
}

/** Connected again: quiet, and seen to follow its finger in the last seconds. */
function recovered(features: Features, a: number): boolean {
	const {analog, hand} = features;
	const {blocks} = analog;
	const full = analog.scale.fullScale;
	const since = before(features, 3);
	const own = analog.trips.turnsSince(a, since) >= 1 && analog.trips.longestSince(a, since) >= 0.2 * full;
	if (!own) return false;
	let quiet = 0;
	let seen = 0;
	for (let number = blocks.firstSince(features.now - 3); number < blocks.count; number++) {
		quiet += blocks.rough[blocks.at(number, a)] < 0.004 * full ? 1 : 0;
		seen++;
	}
	if (seen < 6 || quiet < 0.9 * seen || !followsFinger(features, a, since)) return false;
	// Still an exact copy of the channel before: that one moves, not this.
	if (a > 0) {
		const {gain, residual} = hand.recent.copy(a - 1, a);
		if (gain >= lowestGain && gain <= highestGain && residual <= 0.012 * full) return false;
	}
	return true;
}
