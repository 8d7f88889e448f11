import {type Jump, jumpWindow} from '../features/excursions.ts';
import type {Features} from '../features/features.ts';
import {stretchWindow} from '../features/rail-stretches.ts';
import {rewiringCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault, Way} from './fault.ts';
import {before, figure, percentFs} from './figures.ts';
import {anyProven, isFinger, isWired} from './gates/fingers.ts';
import {isUnscaled} from './gates/firmware-scales.ts';
import {atLeast, chances, type Gate, type Limit, unless} from './gates/gate.ts';

const occasions: Limit = {
	raise: 3,
	must: null,
	mustNot: null,
	unit: 'movements of the channel, or jumps',
	because: 'a contact opens when its wires or its wiper are moved; a jump is itself an occasion',
};

const jumps: Limit = {
	raise: 3,
	clear: 1,
	must: 3,
	mustNot: null,
	unit: 'jumps within a minute that come back within 60 ms',
	because:
		'one may be a knock; no hand goes out and back within 60 ms: a fist opens and closes at 3.4 Hz at the most, a finger taps at 5–7 Hz (grip-and-release norms, from memory); over once a minute has passed without one',
};

const stretches: Limit = {
	raise: 2,
	clear: 1,
	must: 2,
	mustNot: null,
	unit: 'stretches at an end of the scale within ten minutes',
	because:
		'one may be a plug that was pulled; a real contact has lain dead for 149–264 s at a time (check-values H-real); over once ten minutes have passed without one',
};

const others: Limit = {
	raise: 1,
	must: null,
	mustNot: 2,
	unit: 'other fingers that use that end',
	because:
		"an end that several fingers use is the firmware's, or where hands rest (check-values D5.4); a single other one may have a fault of its own",
};

const height: Limit = {
	raise: 20,
	must: 20,
	mustNot: null,
	unit: '% FS',
	because:
		'a sound conductive-plastic track varies by 1 % in contact (potentiometer data sheet, from memory); an open input goes to an end, to the channel read before it, or half the way there',
};

const steps: Limit = {
	raise: 4,
	must: 4,
	mustNot: null,
	unit: "times the channel's fastest ordinary step, which one in a hundred exceeds",
	because: 'a finger quick enough to leap so far in two frames takes such steps more often (check-values D5.4)',
};

const wasMoved: Gate = chances(
	'occasions',
	({analog, railStretches}, a) => analog.trips.count[a] + analog.excursions.count[a] + railStretches.count[a],
	(features, a) => `move ${features.analogName(a)} there and back`,
);

/** What jitters in every frame has no jumps that come back: an open pin is told once its noise has lasted. */
const isQuietBetween: Gate = unless('jitters', 'a level that is quiet between its jumps', ({jagged}, a) =>
	Number.isNaN(jagged.since[a]) ? undefined : 'it jitters in every frame',
);

const jumpsWay: Way = {
	name: 'jumps',
	limits: {occasions, jumps, height},
	gates: [
		isWired,
		anyProven,
		wasMoved,
		isQuietBetween,
		atLeast('jumps', (features, a) => jumpsOf(features, a).length),
		atLeast('height', (features, a) =>
			percentOfNth(
				features,
				jumpsOf(features, a).map(jump => jump.height),
				jumps.raise,
			),
		),
	],
	sign: (features, a) => {
		const found = jumpsOf(features, a);
		const largest = Math.max(...found.map(jump => jump.height));
		return {
			from: found[found.length - 1].from,
			seenAt: found[0].at,
			summary: `${features.analogName(a)} jumped ${found.length} times within a minute by up to ${percentFs(features, largest)} % FS and came back at once.`,
			evidence: evidenceOf({jumps: found.length, largestPercentFs: percentFs(features, largest)}),
		};
	},
};

const stretchesWay: Way = {
	name: 'stretches',
	limits: {occasions, others, stretches, height, steps},
	gates: [
		isFinger,
		isUnscaled,
		anyProven,
		wasMoved,
		atLeast('stretches', (features, a) => stretchesOf(features, a).length),
		atLeast('height', (features, a) => percentOfNth(features, leapsOf(features, a), stretches.raise)),
		atLeast('steps', (features, a) => {
			const leap = nthHighest(leapsOf(features, a), stretches.raise);
			return leap === undefined ? undefined : leap / features.analog.stepSizes.fastest(a, features.scale.fullScale);
		}),
	],
	sign: (features, a) => {
		const found = stretchesOf(features, a);
		const [latest] = found;
		const longest = Math.max(...found.map(({from, to}) => to - from));
		return {
			from: found[found.length - 1].from,
			seenAt: latest.to,
			summary: `${features.analogName(a)} leapt to ${latest.isHigh ? 'the top' : 'zero'} and back ${found.length} times, and lay there for up to ${figure(longest)} s.`,
			evidence: evidenceOf({
				stretches: found.length,
				longestSeconds: figure(longest),
				leapPercentFs: percentFs(features, Math.max(...leapsOf(features, a))),
			}),
		};
	},
};

/** out-of-spec: most frames are right, but none can be relied on; a contact that opens is mended, not waited for. */
export const dropout: Fault<'dropout'> = {
	code: 'dropout',
	status: 'out-of-spec',
	scope: 'analog',
	intermittent: true,
	listedAfter: 'stuck-mid',
	sees: 'jumps',
	title: 'intermittent contact',
	definition: 'Jumps of the reading that come back: a contact opens for some milliseconds, or for a while.',
	physics:
		'A loose joint or a wiper that lifts off a worn spot leaves the input open for a moment, or cuts off one end of the track, which sends it to a rail. Jumps at one angle point at the track, jumps with the movement of the cable at a joint.',
	causes: [
		'A cold or cracked solder joint at the pot, or a wire held by its last strand.',
		'A loose connector or breadboard contact.',
		'A wire breaking inside its insulation where the hand bends.',
		'A worn track: jumps always at the same angle. Panel pots are made for 10 000–50 000 turns; at one curl a second 10 000 are 2.8 hours.',
		'A trimmer used as a sensor (made for about 200 turns).',
	],
	measurements: [
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
	ways: [jumpsWay, stretchesWay],
};

/** Jumps of the latest minute that the sensor must answer for, the latest first. */
function jumpsOf(features: Features, a: number): readonly Jump[] {
	const {analog, link, scale} = features;
	const {excursions, stepSizes} = analog;
	if (excursions.count[a] === 0) return [];
	// A line that loses bytes damages more than one channel, or its own length (check-values D5.4, broken-frames).
	const lineLosesDigits = excursions.eatenChannels > 1 || link.badLines > 0;
	// What a pin did before its wire came is no contact that opens and closes.
	const since = Math.max(before(features, jumpWindow), features.proof.since[a]);
	return excursions.since(a, since, stepSizes.fastest(a, scale.fullScale), lineLosesDigits);
}

type Stretch = {readonly from: number; readonly to: number; readonly leap: number; readonly isHigh: boolean};

/** Stretches at an end that hardly another finger uses, the latest first. */
function stretchesOf(features: Features, a: number): Stretch[] {
	const {railStretches} = features;
	const found: Stretch[] = [];
	const since = Math.max(before(features, stretchWindow), features.proof.since[a]);
	for (let number = railStretches.count[a] - 1; number >= railStretches.oldest(a); number--) {
		const place = railStretches.at(a, number);
		if (railStretches.to[place] < since) break;
		if (railStretches.usedBeside(a, number, features) > others.raise) continue;
		const from = railStretches.from[place];
		const to = railStretches.to[place];
		const leap = railStretches.leap[place];
		found.push({from, to, leap, isHigh: railStretches.isHigh(a, number)});
	}
	return found;
}

function leapsOf(features: Features, a: number): number[] {
	return stretchesOf(features, a).map(({leap}) => leap);
}

function nthHighest(values: readonly number[], n: number): number | undefined {
	return [...values].sort((one, other) => other - one)[n - 1];
}

function percentOfNth(features: Features, counts: readonly number[], n: number): number | undefined {
	const value = nthHighest(counts, n);
	return value === undefined ? undefined : features.percent(value);
}
