import type {Features} from '../features/features.ts';
import {servoCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault, Way} from './fault.ts';
import {figure, inPercent, milliseconds} from './figures.ts';
import {atMost, chances, type Gate, type Limit} from './gates/gate.ts';
import {isOver, isTimed, listen} from './gates/link.ts';

const rate: Limit = {
	raise: 84,
	clear: 100,
	must: 83.3,
	mustNot: 150,
	unit: '% of the target rate',
	because:
		'25 frames/s of the usual target of 30, which a fist at 3.2–3.4 Hz (grip-and-release norms) gives fewer than eight frames a cycle; 45/s is beyond doubt. Raised a hair above the definition, so that rounding does not decide over 25 frames/s sharp; over at the target',
};

/** A slow sender that is steady is a setting, not a defect. */
const steady: Limit = {
	raise: 12,
	must: 12,
	mustNot: null,
	unit: '% of the interval: jitter of a sender that is steady, which is for maintenance only',
	because:
		'what is left by millisecond clocks and USB framing, and no more (the limit at which uneven frames must pass)',
};

const wholeWindow: Limit = {
	raise: 10,
	must: 10,
	mustNot: null,
	unit: 'seconds of frames',
	because: 'by definition; a board that is busy for a moment is not slow',
};

const wholeStream: Limit = {
	raise: 3,
	must: null,
	mustNot: null,
	unit: 'seconds of frames',
	because: 'a stream that ends before ten seconds is judged by what there is; less than this is no pace',
};

function slow(name: string, window: Limit, ...grounds: readonly Gate[]): Way {
	return {
		name,
		limits: {window, rate, steady},
		gates: [
			isTimed,
			...grounds,
			chances('window', ({link}) => link.pace.seconds[0], listen),
			atMost('rate', percentOfTarget),
		],
		sign: ({link}) => {
			const {pace, spacing} = link;
			const jitter = spacing.median > 0 ? inPercent(spacing.mostJitter / spacing.median) : 0;
			const framesPerSecond = figure(pace.framesPerSecond[0]);
			return {
				from: pace.from[0],
				...(jitter <= steady.raise ? {status: 'maintenance'} : {}),
				summary: `${framesPerSecond} frames arrive a second; the target is ${link.targetRate}.`,
				evidence: evidenceOf({
					framesPerSecond,
					target: link.targetRate,
					medianIntervalMs: milliseconds(pace.median[0]),
					jitterPercent: figure(jitter),
				}),
			};
		},
	};
}

/** out-of-spec: readings are right but late. */
export const slowFrames: Fault<'slow-frames'> = {
	code: 'slow-frames',
	status: 'out-of-spec',
	scope: 'link',
	listedAfter: 'broken-frames',
	sees: 'the link',
	title: 'fewer frames than wanted',
	definition: 'The frame rate stays under the target (30 per second unless the sheet says otherwise).',
	physics:
		'A frame takes reading time, computing and wire time. At 9600 baud a line of 40 bytes takes 42 ms: 24 frames/s at most, whatever the board does. A fist closes and opens at 3 Hz: below 25 frames/s that is less than eight frames a cycle.',
	causes: [
		'delay() or waiting code in the loop.',
		'The baud rate is too low for the length of the line.',
		'The loop waits for a slow device: display, LED strip, servo, radio.',
		'Many readings averaged per channel.',
		'Bluetooth or a radio bridge with its own pace.',
	],
	measurements: [
		{measure: 'Bytes per line times frames per second, beside baud / 10', expect: 'below 70 %; near 100 %: raise baud'},
		{measure: 'Read the firmware: delay(), pulseIn(), long averaging', expect: 'total under 20 ms per pass'},
		{
			measure: 'Rate with everything but reading and printing commented out',
			expect: 'rises: add parts back one by one',
		},
		{measure: 'Rate over USB instead of radio', expect: 'the same; higher: the radio limits'},
	],
	remedy: [
		'Replace delay() by a timer: send when 16 ms have passed.',
		'Use 115200 or more; shorten the line.',
		'Update displays and LEDs every tenth frame.',
	],
	caution: servoCaution,
	ways: [slow('ten seconds', wholeWindow), slow('to the end', wholeStream, isOver)],
};

function percentOfTarget({link}: Features): number | undefined {
	const rate = link.pace.framesPerSecond[0];
	return Number.isNaN(rate) ? undefined : inPercent(rate / link.targetRate);
}
