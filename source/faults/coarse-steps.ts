import type {Features} from '../features/features.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure, percentFs} from './figures.ts';

/** out-of-spec: less resolution than the board has. */
export const coarseSteps: Fault = {
	code: 'coarse-steps',
	status: 'out-of-spec',
	scope: 'analog',
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
	checks: [
		{measure: 'Read the firmware: look for map(), /, >> or & on this channel', expect: 'the raw reading is sent'},
		{measure: 'Turn the shaft very slowly', expect: 'readings step by 1 count'},
		{measure: 'Resolution set for the converter', expect: '10 bit (0–1023) or 12 bit (0–4095), as declared'},
	],
	remedy: [
		'Send the raw reading; smooth and scale at the receiving end.',
		'Average several readings instead of dropping bits.',
	],
	thresholds:
		'A step of 8 counts is three bits lost: of ten bits seven remain, two degrees of a 270° track. A sound converter is within ±2 counts (ATmega328P data sheet), so true steps are 1. Judged once the channel has travelled far enough that equal steps cannot be chance.',
	everyTicks: 2,
	detect,
};

/** The definition. */
const leastStep = 8;

/** Ten unrelated changes would all be multiples of 8 once in 8¹⁰. */
const leastChanges = 10;

/** Dead bands are a few times the converter's noise, at most 0.1 % of full scale: this is many of them (common practice). */
const leastTravel = 0.02;

function detect(features: Features, a: number): Verdict {
	const {steps, scale} = features.analog;
	if (scale.fullScale < 255) return undefined;
	const step = steps.step(a);
	if (step === 0) return undefined;
	if (step < leastStep) return 'gone';
	if (steps.changesSeen(a) < leastChanges || steps.range(a) < leastLevels(features, a, step)) return undefined;
	return {
		from: before(features, 20),
		confidence: 0.95,
		summary: `${features.analogName(a)} only takes every ${step}th count: ${figure((scale.fullScale + 1) / step)} levels instead of ${scale.fullScale + 1}.`,
		evidence: {
			stepCounts: step,
			stepPercentFs: percentFs(features, step),
			levels: figure((scale.fullScale + 1) / step),
		},
	};
}

/**
 * Range that must have been seen, counts. Firmware that holds its number until it has moved by a dead band gives a few
 * levels about one place while the hand rests; a lattice shows over travel. A channel that hardly reaches its second
 * level is believed where another one has the very same step.
 */
function leastLevels(features: Features, a: number, step: number): number {
	const {steps, columns, scale} = features.analog;
	if (2 * step > leastTravel * scale.fullScale)
		for (let b = 0; b < columns.length; b++) if (b !== a && steps.step(b) === step) return step;
	return Math.max(2 * step, leastTravel * scale.fullScale);
}
