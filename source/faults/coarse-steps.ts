import type {Features} from '../features/features.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {figure, percentFs} from './figures.ts';
import {notLearning} from './gates/fingers.ts';
import {atLeast, chances, ground, type Limit} from './gates/gate.ts';

const limits: Readonly<Record<'scale' | 'changes' | 'range' | 'levels' | 'step', Limit>> = {
	scale: {
		raise: 255,
		must: null,
		mustNot: null,
		unit: 'counts of full scale',
		because:
			'below 8 bits a step of 8 counts would leave fewer than 32 levels: such a scale is in other units than counts',
	},
	changes: {
		raise: 10,
		must: null,
		mustNot: null,
		unit: 'changes of the reading',
		because: 'ten unrelated changes are all multiples of 8 once in 8¹⁰',
	},
	range: {
		raise: 2,
		must: null,
		mustNot: null,
		unit: '% FS travelled',
		because:
			'firmware that holds its number until it has moved by a dead band (a few times the noise, at most 0.1 % FS; common practice, no source) gives a few levels about one place while the hand rests; a lattice shows over travel',
	},
	levels: {
		raise: 2,
		must: null,
		mustNot: null,
		unit: 'steps from end to end; one is enough where another channel has the very same step',
		because: 'two levels are a switch, three a lattice',
	},
	step: {
		raise: 8,
		must: 8,
		mustNot: 1,
		unit: 'counts',
		because:
			'three bits lost: of ten bits seven remain, two degrees of a 270° track. A sound converter is within ±2 counts (ATmega328P data sheet), so true steps are 1.',
	},
};

/** A finer step than the limit is proof enough: nothing more has to be seen. */
function isFine({analog}: Features, a: number): boolean {
	const step = analog.steps.step(a);
	return step > 0 && step < limits.step.raise;
}

function levels(features: Features, a: number): number {
	const {steps, columns} = features.analog;
	const step = steps.step(a);
	if (step === 0) return 0;
	const isShared = columns.some((_, b) => b !== a && steps.step(b) === step);
	return steps.range(a) / step + (isShared ? 1 : 0);
}

function move(features: Features, a: number): string {
	return `move ${features.analogName(a)} there and back`;
}

/** out-of-spec: less resolution than the board has. */
export const coarseSteps: Fault<'coarse-steps'> = {
	code: 'coarse-steps',
	status: 'out-of-spec',
	scope: 'analog',
	listedAfter: 'backlash',
	sees: 'does not move, or too little',
	title: 'few distinct levels',
	definition:
		'The channel takes far fewer levels than the converter gives: every value is a multiple of eight counts or more above some offset.',
	physics:
		'A converter steps by one count. Larger equal steps mean that bits were dropped on the way: division, scaling to a small range and back, or a reading of eight bits shifted up.',
	causes: [
		'The firmware divides or maps the reading to a small range and multiplies it back.',
		'The low bits are masked or shifted away to calm the noise.',
		'The converter runs at a lower resolution than the frame states.',
		'The value passes through one byte on a link between two chips.',
	],
	measurements: [
		{measure: 'Read the firmware: look for map(), /, >> or & on this channel', expect: 'the raw reading is sent'},
		{measure: 'Turn the shaft very slowly', expect: 'readings step by 1 count'},
		{measure: 'Resolution set for the converter', expect: '10 bit (0–1023) or 12 bit (0–4095), as declared'},
	],
	remedy: [
		'Send the raw reading; smooth and scale at the receiving end.',
		'Average several readings instead of dropping bits.',
	],
	everyTicks: 2,
	ways: [
		{
			name: 'step',
			limits,
			gates: [
				ground(
					'scale',
					`at least ${limits.scale.raise} ${limits.scale.unit}`,
					({scale}) => scale.fullScale >= limits.scale.raise,
				),
				notLearning,
				chances(
					'changes',
					(features, a) => (isFine(features, a) ? limits.changes.raise : features.analog.steps.changesSeen(a)),
					move,
				),
				chances(
					'range',
					(features, a) =>
						isFine(features, a) ? limits.range.raise : features.percent(features.analog.steps.range(a)),
					move,
				),
				chances('levels', (features, a) => (isFine(features, a) ? limits.levels.raise : levels(features, a)), move),
				atLeast('step', ({analog}, a) => (analog.steps.step(a) > 0 ? analog.steps.step(a) : undefined)),
			],
			sign: (features, a) => {
				const step = features.analog.steps.step(a);
				const all = features.scale.fullScale + 1;
				const {rows, steps} = features.analog;
				return {
					from: rows.start[rows.slot(rows.count - steps.reach(a))],
					summary: `${features.analogName(a)} only takes every ${step}th count: ${figure(all / step)} levels instead of ${all}.`,
					evidence: evidenceOf({
						stepCounts: step,
						stepPercentFs: percentFs(features, step),
						levels: figure(all / step),
					}),
				};
			},
		},
	],
};
