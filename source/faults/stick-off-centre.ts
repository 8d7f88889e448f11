import type {Features} from '../features/features.ts';
import {overvoltageCaution, rewiringCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault, Sign} from './fault.ts';
import type {Status} from './fault-code.ts';
import {figure, percentFs} from './figures.ts';
import {atLeast, chances, type Gate, type Limit, reachesLimit, unless} from './gates/gate.ts';
import {isScaleKnown, isStick, stickOf} from './gates/stick.ts';

const rest: Limit = {
	raise: 2,
	must: null,
	mustNot: null,
	unit: 's lying still there',
	because: 'a stick that is held aside for a moment does not rest there; common practice, no source',
};

const off: Limit = {
	raise: 10,
	clear: 8,
	must: 12,
	mustNot: 6,
	unit: '% FS off mid-scale',
	because:
		'small stick modules are off by up to 5 % of the range, above 10 % one is suspect (common practice); between the two limits a rest point is known to a few tenths of a per cent',
};

const rests: Gate = chances(
	'rest',
	(features, a) => stickOf(features).restSeconds(a),
	'leave the stick alone for two seconds',
);

const isOff: Gate = atLeast('off', offPercent, (features, a, raise) => reachesLimit(offPercent(features, a), raise));

function offPercent(features: Features, a: number): number | undefined {
	const counts = offMiddle(features, a);
	return counts === undefined ? undefined : Math.abs(features.percent(counts));
}

/** out-of-spec: usable once the centre is taken from its rest, with unequal throws. */
export const stickOffCentre: Fault<'stick-off-centre'> = {
	code: 'stick-off-centre',
	status: 'out-of-spec',
	scope: 'stick',
	listedAfter: 'settings-stale',
	sees: 'wrong way, wrong place or wrong scale',
	title: 'rests beside the middle',
	definition: 'The released stick rests away from mid-scale.',
	physics:
		'Each axis is a 10 kΩ pot held at its middle by a spring: released, its wiper gives half of what feeds it. A leg with resistance, or feed and reference from two places, moves that point; so does a gimbal mounted askew. Several gloves off in the same way point at wiring and supply, not at bad sticks.',
	causes: [
		"Fed from another voltage than the converter's reference: a stick on 5 V rests at 76 % of 3.3 V, one on 3.3 V at 33 % of 5 V. Likely where several units are off alike.",
		'A poor joint in one leg: 1 kΩ in the ground leg lifts the middle from 50 to 55 %.',
		'The stick is bent, its pot clips sit askew, or the cap touches the case.',
		'The firmware subtracts a centre measured with the stick held.',
		'A pull-up left on the pin: 35 kΩ lift the middle to 53 %.',
	],
	measurements: [
		{measure: 'Stick released: volts at the axis pin to ground', expect: '2.25–2.75 V of 5 V; 1.5–1.8 V of 3.3 V'},
		{measure: "Volts at the stick's supply pin beside the converter's reference", expect: 'the same within 20 mV'},
		{
			measure: 'The rest position of another unit built alike',
			expect: 'near the middle; off alike: look at wiring and supply first',
		},
		{measure: "Unplugged: resistance of the stick's ground pin to the board's ground", expect: 'under 1 Ω'},
		{measure: 'Push the cap lightly sideways and let go', expect: 'clears the case all round'},
	],
	remedy: [
		"Feed the stick from the converter's reference voltage.",
		'Mend the joint in the leg.',
		'Seat the pot clips; free the cap.',
		'Take the centre from the rest position, as fit does.',
	],
	caution: `${overvoltageCaution} ${rewiringCaution}`,
	ways: [
		{
			name: 'never pushed',
			limits: {rest, off},
			gates: [
				isStick,
				isScaleKnown,
				rests,
				unless('untouched', 'an axis that has not been pushed', (features, a) =>
					stickOf(features).pushCount(a) > 0 ? 'it has been pushed' : undefined,
				),
				isOff,
			],
			sign: (features, a) => ({
				...signOf(features, a, 'function-check'),
				summary: `${restsAt(features, a)}: off centre, or not wired yet: push it once.`,
				advice: ['Push the stick along this axis once and let it go.'],
			}),
		},
		{
			name: 'let go',
			limits: {
				pushes: {
					raise: 1,
					must: null,
					mustNot: null,
					unit: 'pushes',
					because: 'a pin with nothing on it lies anywhere, and a push tells it from a stick (check-values D5.4)',
				},
				rest,
				off,
			},
			gates: [
				isStick,
				isScaleKnown,
				chances(
					'pushes',
					(features, a) => stickOf(features).pushCount(a),
					'push the stick along this axis and let it go',
				),
				rests,
				isOff,
			],
			// It has been pushed: what was asked for before that is no advice any more.
			sign: (features, a) => ({...signOf(features, a, 'out-of-spec'), advice: []}),
		},
	],
};

function offMiddle(features: Features, a: number): number | undefined {
	return stickOf(features).offMiddle(a);
}

function restsAt(features: Features, a: number): string {
	const stick = stickOf(features);
	const point = stick.restPoint(a === stick.x ? 'x' : 'y') ?? Number.NaN;
	return `${features.analogName(a)} rests at ${figure(point)}, ${percentFs(features, offMiddle(features, a) ?? Number.NaN)} % FS from mid-scale`;
}

function signOf(features: Features, a: number, status: Status): Sign {
	const stick = stickOf(features);
	const point = stick.restPoint(a === stick.x ? 'x' : 'y') ?? Number.NaN;
	return {
		from: stick.restFrom(a),
		status,
		summary: `${restsAt(features, a)}.`,
		evidence: evidenceOf({
			restCounts: figure(point),
			offCentrePercentFs: percentFs(features, offMiddle(features, a) ?? Number.NaN),
			restNoisePercentFs: percentFs(features, features.analog.restNoise(a) ?? 0),
		}),
	};
}
