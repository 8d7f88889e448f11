import {workingMovements} from '../features/working.ts';
import {cordCaution, overvoltageCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {figure, percentFs, percentOf} from './figures.ts';
import {hasCompany, isFinger, wholeHand} from './gates/fingers.ts';
import {isUnscaled} from './gates/firmware-scales.ts';
import {atLeast, atMost, chances, type Limit, unless} from './gates/gate.ts';

/** One that lies still while the hand goes on is stuck, whatever it did before. */
const goesAlong = unless('goesAlong', 'a finger that moves with the hand', (features, a) =>
	workingMovements(features, a, features.analog.still.since[a]) > 1
		? 'it has lain still through two movements'
		: undefined,
);

/** A channel that never travels is stuck at its rail, not clipped. */
const tookPart = chances('movements', (features, a) => features.movements.tookPart[a], wholeHand);

const shareLimit: Limit = {
	raise: 0.1,
	clear: 0.05,
	must: 0.1,
	mustNot: null,
	unit: "of the hand's moving time at a rail",
	because:
		'a finger that just touches its rail at the end of a stroke is there for the slowest few hundredths of it; a tenth of the moving time is a fifth of the travel lost (minimum-jerk stroke: 0.2 of the time for the last 6 %)',
};

/** out-of-spec: part of the travel is lost, the rest is right. */
export const clippedRange: Fault<'clipped-range'> = {
	code: 'clipped-range',
	status: 'out-of-spec',
	scope: 'finger',
	listedAfter: 'mains-hum',
	sees: 'does not move, or too little',
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
	measurements: [
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
	ways: [
		{
			name: 'share',
			limits: {
				movements: {
					raise: 6,
					must: null,
					mustNot: null,
					unit: 'whole-hand movements in which the finger made a trip itself',
					because:
						'three closings and three openings: a share of fewer is that of one long fist, and firmware that scales has shown both ends of its fingers by then, so that what is put at an end is not taken for what runs into it',
				},
				besides: {
					raise: 0.5,
					clear: 0.7,
					must: null,
					mustNot: 1,
					unit: 'of the other fingers that lie at a rail half as long and longer, at the most',
					because:
						'where most fingers end at the rails the firmware puts them there (check-values D5.4); reels are mounted one by one',
				},
				share: shareLimit,
			},
			gates: [
				isFinger,
				hasCompany,
				tookPart,
				isUnscaled,
				goesAlong,
				atLeast('share', (features, a) => features.railTime.share(a)),
				atMost('besides', (features, a) => features.railTime.besides(features, a, shareLimit.raise / 2)),
			],
			sign: (features, a) => {
				const {low, high, moving} = features.railTime;
				const end = low[a] > high[a] ? 'low' : 'high';
				const share = features.railTime.share(a);
				return {
					from: features.epochFrom,
					summary: `${features.analogName(a)} lies flat at the ${end} end of the scale for ${percentOf(share)} % of the time in which the hand moves.`,
					evidence: evidenceOf({
						end,
						shareOfMovingTime: figure(share),
						movingFrames: Math.round(moving[a]),
						spanPercentFs: percentFs(features, features.analog.spans.of(a)),
					}),
				};
			},
		},
	],
};
