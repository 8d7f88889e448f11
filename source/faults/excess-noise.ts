import {stepOf} from '../features/analog-features.ts';
import type {Features} from '../features/features.ts';
import {hiddenMains} from '../features/hum-search.ts';
import {rewiringCaution, servoCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {figure, percentFs} from './figures.ts';
import {followsFinger, othersRest, restWatch} from './rest-watch.ts';
import {workingFingers} from './stuck-level.ts';

/** out-of-spec: the signal is there, with more doubt than its user may expect. */
export const excessNoise: Fault = {
	code: 'excess-noise',
	status: 'out-of-spec',
	scope: 'analog',
	title: 'noisy at rest',
	definition: 'More noise at rest than a sound pot gives, on a channel that otherwise follows its finger.',
	physics:
		'Quantisation leaves 0.29 counts rms and a 10 kΩ pot adds little: its source resistance is at most a quarter of its value, 2.5 kΩ at mid-travel. More comes from contact noise, from a source too weak to charge the converter, or from what the leads pick up.',
	causes: [
		'A dirty or worn track, or a cold solder joint.',
		'A pot of too high a value: at 100 kΩ the source reaches 25 kΩ, above the 10 kΩ the ATmega328P converter is made for.',
		'Sensor wires running beside motor, radio or USB wires, or a long ground return.',
		"Noise of the board's own supply or converter (usual on ESP32 boards with the radio on).",
		'A hand in the glove: tremor of 8–12 Hz is anatomy, about one count on a 16 mm spool, and no fault.',
	],
	checks: [
		{measure: 'Glove off and lying still: rest noise beside the other fingers', expect: 'alike, 1–3 counts at 10 bit'},
		{measure: 'Unplugged: resistance between the outer lugs', expect: '8–12 kΩ; 80–120 kΩ: too high a value'},
		{
			measure: 'Unplugged: resistance wiper to one end while turning slowly',
			expect: "no steps beyond 1 % of the pot's value",
		},
		{measure: 'Noise with motors unplugged and radio off', expect: 'the same; less: it comes from there'},
		{measure: 'Noise with a finger laid along the wiper wire', expect: 'the same; more: wire badly joined or too long'},
	],
	remedy: [
		'Re-solder; replace the pot if its track is noisy.',
		'Solder 100 nF from the input to ground at the board (with 2.5 kΩ: 0.25 ms).',
		'Keep sensor wires away from motor wires; run a ground wire beside them.',
		'Average 4–16 readings per frame in the firmware: noise falls by 2–4.',
	],
	caution: `${rewiringCaution} ${servoCaution}`,
	thresholds:
		'1–3 counts rms at 10 bit (0.3 %) is usual for a pot of this kind (common practice); 1.5 % of full scale is 15 counts, five times that, and costs more than five of the ten bits (log2(σ·√12)). Up to 0.6 % must pass: it is reached by sound ESP32 inputs and by a trembling hand.',
	detect,
};

/**
 * Between the definition's must (1.5 % rms) and must not (0.6 %), close to the latter: a resting finger's own tremor
 * and posture stay below 0.2 %, so a steady rough 0.68 % is already the sensor's.
 */
const leastRms = 0.0068;
const goneRms = 0.006;

function detect(features: Features, a: number): Verdict {
	const {analog, hum} = features;
	const rate = features.framesPerSecond;
	if (rate === undefined || rate < 12) return undefined;
	const full = analog.scale.fullScale;
	// Nothing new is learnt while the hand moves, nor from a channel that lies quiet anyway.
	const {blocks} = analog;
	const newest = blocks.noise[blocks.at(blocks.count - 1, a)];
	if (newest < 0.5 * goneRms * full && blocks.noise[blocks.at(blocks.count - 2, a)] < 0.5 * goneRms * full)
		return 'gone';
	if (!othersRest(features, a)) return undefined;
	const rest = restWatch(features, a, 5, 6);
	if (rest === undefined) return undefined;
	if (rest.noise < goneRms * full) return 'gone';
	// Toggling between two counts of a coarse scale is half a count rms.
	if (rest.noise < Math.max(leastRms * full, 0.9 * stepOf(full))) return undefined;
	// A tap of one finger is smooth at 40 frames/s and more (its second difference is below a quarter of white noise's);
	// at slower rates only the quietest moment tells noise from movement.
	const long = rate >= 40 ? rest : restWatch(features, a, 15, 20);
	if (long === undefined || (rate < 40 && rest.noise > 0.06 * full)) return undefined;
	const likeNoise =
		rate >= 40
			? rest.roughShare >= 0.3 && rest.settled >= 0.6 && rest.quietest >= 0.35 * rest.noise
			: long.quietest >= 0.5 * leastRms * full && long.settled >= 0.6;
	if (!likeNoise) return undefined;
	const line = hum.found[a];
	if (line !== undefined && line.share >= 0.5) return undefined;
	const begun = Number.isNaN(analog.roughSince[a]) ? rest.since : analog.roughSince[a];
	if (!followsFinger(features, a, 0)) return undefined;
	// The hand has worked since the noise began and this channel has not: it is open.
	if (
		features.hand.fingers.includes(a) &&
		workingFingers(features, a, begun) >= 2 &&
		!followsFinger(features, a, begun)
	)
		return 'never';
	return {
		from: begun,
		confidence: rest.noise >= 0.015 * full ? 0.9 : 0.7,
		summary: `${features.analogName(a)} jitters by ${percentFs(features, rest.noise)} % FS rms while the hand rests.`,
		evidence: {
			restNoisePercentFs: percentFs(features, rest.noise),
			restNoiseCounts: figure(rest.noise),
			...mainsDoubt(rate),
		},
	};
}

/** Said beside noise where hum could hide in it: at these rates its line would stand still and can't be told. */
function mainsDoubt(framesPerSecond: number): Record<string, string> {
	const hidden = hiddenMains(framesPerSecond);
	return hidden.length === 0
		? {}
		: {mains: `${hidden.join(' and ')} Hz can't be told at ${figure(framesPerSecond)} frames/s`};
}
