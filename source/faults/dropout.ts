import type {Features} from '../features/features.ts';
import {rewiringCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure, percentFs} from './figures.ts';
import {typicalNoise} from './rest-watch.ts';

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
	checks: [
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
	thresholds:
		'A fist opened and closed as fast as possible runs at 3.2–3.4 Hz (grip-and-release norms, 50 healthy adults), tapping at 5–7 Hz; half a period of 7 Hz is 71 ms, so 20 % of full scale out and back within 60 ms (or three frames, at low rates) is no hand. A sound conductive-plastic track varies by 1 % in contact (potentiometer data sheet). Three jumps within a minute, because a single one may be a knock.',
	detect,
};

/** The definition: three jumps within a minute. Over once ten seconds have passed without one. */
const leastJumps = 3;
const windowSeconds = 60;
const quietSeconds = 10;

/**
 * A jump stands this far out of the channel's typical noise. Crackling contacts make noise with long tails (Laplace: one
 * reading in 250,000 beyond 8.8 of its rms, which is 12 of the rms that its median tells).
 */
const spikeFactor = 12;
const noiseSeconds = 2;

function detect(features: Features, a: number): Verdict {
	const {analog} = features;
	const {excursions} = analog;
	if (excursions.count[a] === 0) return undefined;
	// Six and a half sigma of the channel's own noise: what noise alone throws up once in billions of readings.
	let least = 6.5 * (analog.restNoise(a) ?? 0);
	if (excursions.since(a, before(features, quietSeconds), least) === 0) return 'gone';
	if (excursions.since(a, before(features, windowSeconds), least) < leastJumps) return undefined;
	// Only jumps that the noise now does not bring.
	least = Math.max(least, spikeFactor * typicalNoise(features, a, noiseSeconds));
	const jumps = excursions.since(a, before(features, windowSeconds), least);
	if (jumps < leastJumps) return undefined;
	let from = features.now;
	let largest = 0;
	for (let number = excursions.count[a] - 1, left = jumps; left > 0 && number >= 0; number--) {
		const place = excursions.at(a, number);
		if (excursions.eaten[place] === 1 || Math.abs(excursions.heights[place]) < least) continue;
		from = excursions.times[place];
		largest = Math.max(largest, Math.abs(excursions.heights[place]));
		left--;
	}
	return {
		from,
		confidence: Math.min(0.95, 0.6 + 0.05 * jumps),
		summary: `${features.analogName(a)} jumped ${jumps} times by up to ${percentFs(features, largest)} % FS and came back at once.`,
		evidence: {
			jumps,
			largestPercentFs: percentFs(features, largest),
			perMinute: figure((60 * jumps) / Math.max(1, Math.min(windowSeconds, features.now - from))),
		},
	};
}
