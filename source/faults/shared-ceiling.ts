import type {Ceiling} from '../features/ceilings.ts';
import type {Features} from '../features/features.ts';
import {overvoltageCaution, referenceCaution, rewiringCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault, Sign} from './fault.ts';
import {figure, percentFs} from './figures.ts';
import {wholeHand} from './gates/fingers.ts';
import {atLeast, chances, ground, type Limit} from './gates/gate.ts';

const flat: Limit = {
	raise: 0.02,
	must: 0.02,
	mustNot: null,
	unit: 'of the time at its own top, within 0.3 % FS',
	because:
		'closed fists differ by several per cent from one to the next (check-values H-real: ends scatter by 5 % of span and more); a ceiling does not',
};

const fingers: Limit = {
	raise: 3,
	clear: 2,
	must: 3,
	mustNot: 1,
	unit: 'fingers that end within 1 % FS of each other, at 50 to 95 % FS',
	because:
		'two tops may be alike by chance; three of hands whose ends differ by tens of per cent hardly (check-values D5.4)',
};

/** Readings with a unit have no full scale of a converter. */
const areCounts = ground('counts', 'readings in counts', ({scale}) => !scale.foreign);

function mostMovements({hands}: Features): number {
	return Math.max(0, ...hands.flatMap(hand => hand.fingers.map(f => hand.count[f])));
}

/** Ways gone by the fourth of the fingers that have gone the most. */
function strokesOfFourth({hands, analog}: Features): number {
	const ways = hands.flatMap(hand => hand.fingers.map(f => analog.trips.count[f]));
	return ways.sort((one, other) => other - one)[fingers.raise] ?? 0;
}

/** out-of-spec: the readings are right, a third of the range unused. */
export const sharedCeiling: Fault<'shared-ceiling'> = {
	code: 'shared-ceiling',
	status: 'out-of-spec',
	scope: 'link',
	readsCounts: true,
	listedAfter: 'supply-ripple',
	sees: 'does not move, or too little',
	title: 'all tops at one level',
	definition:
		"Several pots flatten at one and the same level below full scale: they are fed from a lower voltage than the converter's reference.",
	physics:
		'A pot cannot give more than it is fed. 3.3 V on a converter that measures against 5 V end at 3.3/5 = 66 % of full scale: 675 of 1023.',
	causes: [
		'The pots are fed from the 3.3 V pin of a board whose converter measures against 5 V: all tops at 66 %, 675 counts of 1023.',
		"The converter's range reaches beyond the supply (ESP32 at 11 dB: nominal 3.9 V).",
		'A diode, a resistor or a poor joint in the common supply of the pots.',
		'The firmware limits all fingers to one value.',
	],
	measurements: [
		{measure: "Volts from a pot's supply lug to ground", expect: '5 V on a 5 V board; 3.3 V: fed from the wrong pin'},
		{measure: "Volts at the converter's reference (AREF) to ground", expect: 'the same as at the supply lug'},
		{measure: 'Turn one pot to its end: volts at the middle lug', expect: 'within 50 mV of the supply lug'},
		{measure: 'Read the firmware: look for constrain(), min() or a table end', expect: 'no limit at the level seen'},
	],
	remedy: [
		"On a 5 V board move the pots' supply to the 5 V pin.",
		"Or set the converter's reference to the voltage that feeds the pots: external reference chosen in the firmware first, then 3.3 V wired to AREF.",
		'Mend the common supply.',
	],
	caution: `${overvoltageCaution} ${referenceCaution} ${rewiringCaution}`,
	ways: [
		{
			name: 'closed ends',
			limits: {
				movements: {
					raise: 6,
					must: null,
					mustNot: null,
					unit: 'whole-hand movements',
					because: 'three closings, of which nearly all have to end at the top: fists differ, a ceiling does not',
				},
				flat,
				fingers,
			},
			gates: [
				areCounts,
				chances('movements', mostMovements, wholeHand),
				atLeast(
					'fingers',
					features => features.ceilings.group(features, flat.raise).fingers.length,
					(features, _, least) => features.ceilings.groupHas(features, flat.raise, least),
				),
			],
			sign: features => signOf(features, features.ceilings.group(features, flat.raise)),
		},
		{
			name: 'stops',
			limits: {
				strokes: {
					raise: 8,
					must: null,
					mustNot: null,
					unit: 'ways of each of four fingers',
					because: 'four there and four back, of which two at the least end at the ceiling',
				},
				flat,
				fingers: {
					...fingers,
					raise: 4,
					clear: 3,
					must: null,
					mustNot: null,
					unit: 'fingers that are stopped within 0.2 % FS of each other, at 50 to 95 % FS',
					because:
						'movements may end short of a ceiling; that four of five tops spread over a sixth of the scale agree so closely is chance once in 25,000 gloves (20·(0.002/0.16)³), three once in 160',
				},
			},
			gates: [
				areCounts,
				chances('strokes', strokesOfFourth, 'bend and stretch every finger as far as it goes'),
				atLeast(
					'fingers',
					features => features.ceilings.stops(features, flat.raise).fingers.length,
					(features, _, least) => features.ceilings.stopsHave(features, flat.raise, least),
				),
			],
			sign: features => signOf(features, features.ceilings.stops(features, flat.raise)),
		},
	],
};

function signOf(features: Features, {fingers: found, level}: Ceiling): Sign {
	return {
		from: features.epochFrom,
		summary: `${found.length} fingers flatten at the same ${percentFs(features, level)} % FS however far they go.`,
		evidence: evidenceOf({
			levelPercentFs: percentFs(features, level),
			levelCounts: Math.round(level),
			fingers: found.map(a => features.analogName(a)).join(', '),
			impliedSupplyOfReference: figure(level / features.scale.fullScale),
		}),
	};
}
