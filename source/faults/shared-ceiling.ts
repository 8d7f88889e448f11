import type {Features} from '../features/features.ts';
import {overvoltageCaution, referenceCaution, rewiringCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure, percentFs} from './figures.ts';

/** out-of-spec: the readings are right, a third of the range unused. */
export const sharedCeiling: Fault = {
	code: 'shared-ceiling',
	status: 'out-of-spec',
	scope: 'link',
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
	checks: [
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
	thresholds:
		"Tops that are limited by fingers differ from one another by several percent; three within 1 % of full scale, and flat there, have one cause. Between 50 and 95 % of full scale: higher is a pot's own end resistance or a 50 Ω joint (97.6 % with five pots), lower is another fault. 3.3 V on 5 V read 675 of 1023 (conversion formula of the ATmega328P data sheet).",
	everyTicks: 4,
	detect,
};

/** The definition: three fingers or more, tops within 1 % of full scale, at 50 to 95 % of it. */
const leastFingers = 3;
const withinShare = 0.01;
const lowest = 0.5;
const highest = 0.955;

/** Share of the latest closings that must end right at the top: fists differ, a ceiling does not. */
const leastAtTop = 0.7;
const topBand = 0.006;

function detect(features: Features): Verdict {
	const {analog, hand} = features;
	const {ends, scale} = analog;
	const full = scale.fullScale;
	// Half of the arrivals stopped dead, at least two: a finger that closes by itself brakes.
	const tops = hand.fingers
		.filter(a => ends.sharpHigh(a, 2) >= 0.5 && stopsAtTop(features, a))
		.map(a => ({a, top: ends.high[a] - scale.railLow}))
		.filter(({top}) => top >= lowest * full && top <= highest * full)
		.sort((one, other) => one.top - other.top);
	for (let i = 0; i + leastFingers <= tops.length; i++) {
		let last = i;
		while (last + 1 < tops.length && tops[last + 1].top - tops[i].top <= withinShare * full) last++;
		const group = tops.slice(i, last + 1);
		if (group.length < Math.max(leastFingers, Math.ceil(0.5 * hand.fingers.length))) continue;
		const level = group.reduce((sum, {top}) => sum + top, 0) / group.length;
		return {
			from: before(features, 10),
			confidence: Math.min(0.95, 0.5 + 0.1 * group.length),
			summary: `${group.length} fingers flatten at the same ${percentFs(features, level)} % FS although the hand goes on closing.`,
			evidence: {
				levelPercentFs: percentFs(features, level),
				levelCounts: Math.round(level),
				fingers: group.map(({a}) => features.analogName(a)).join(', '),
				impliedSupplyVolts: figure((5 * level) / full),
			},
		};
	}
	return undefined;
}

/** Whether nearly all of a finger's upper turns lie at its top. */
function stopsAtTop(features: Features, a: number): boolean {
	const {trips, ends, scale} = features.analog;
	let turns = 0;
	let atTop = 0;
	for (let number = trips.count[a] - 1; number >= trips.oldest(a) && turns < 8; number--) {
		const place = trips.at(a, number);
		if (trips.kinds[place] < 0) continue;
		turns++;
		if (trips.values[place] >= ends.high[a] - topBand * scale.fullScale) atTop++;
	}
	return turns >= 2 && atTop >= leastAtTop * turns;
}
